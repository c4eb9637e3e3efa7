import type { Metadata } from 'next'
import { ActionLink } from '#app/_ui/action-link.tsx'
import { seasonName } from '#app/_ui/dates.ts'
import { Empty } from '#app/_ui/empty.tsx'
import { Filters } from '#app/_ui/filters.tsx'
import { counted } from '#app/_ui/measures.ts'
import { PageHead } from '#app/_ui/page-head.tsx'
import { RateKey } from '#app/_ui/rate-dot.tsx'
import { Section } from '#app/_ui/section.tsx'
import { verdict } from '#app/g/[group]/results/_parts/rate-words.ts'
import {
  type ResultsAddress,
  resultsAddress,
  resultsFilter,
  resultsHref,
} from '#app/g/[group]/results/_parts/results-address.ts'
import { ResultsOfSide } from '#app/g/[group]/results/_parts/results-side.tsx'
import { cropWord } from '#app/g/[group]/wood/_parts/crop-word.ts'
import { memberContext } from '#lib/access/context.ts'
import { settledAfterDays } from '#lib/attempts/next-look.ts'
import { type ResultsChoices, resultsChoices } from '#lib/results/outcome-tallies.ts'
import { getResults, type Results, type ResultsSide } from '#lib/results/results.ts'
import { GroupPage } from '../_frame/group-page.tsx'

export const metadata: Metadata = { title: 'Results' }

const sides: readonly ResultsSide[] = ['grafts', 'rooting']

export default async function ResultsPage(props: PageProps<'/g/[group]/results'>) {
  const [{ group: slug }, query] = await Promise.all([props.params, props.searchParams])
  const context = await memberContext(slug)
  const { db, actor } = context
  const choices = await resultsChoices(db, actor)
  const address = resultsAddress(query, choices)
  const results = await getResults(db, actor, resultsFilter(address))
  const shown = sides.filter((side) => results.byVariety[side].rows.length > 0)
  return (
    <GroupPage context={context} current="results">
      <PageHead
        title="Results"
        meta={metaOf(address, choices)}
        lead={shown.map((side) => verdict(side, results.byVariety[side])).join(' ') || undefined}
        acts={
          shown.length > 0 && (
            <ActionLink href={resultsHref(slug, address, '/csv')}>Download (CSV)</ActionLink>
          )
        }
      />
      {choices.seasons.length > 0 && <Narrow slug={slug} address={address} choices={choices} />}
      {shown.length > 0 ? (
        <>
          <HowCounted results={results} />
          {shown.map((side) => (
            <ResultsOfSide key={side} side={side} results={results} />
          ))}
        </>
      ) : (
        <NothingYet slug={slug} isNarrowed={address.season !== null || address.crop !== null} />
      )}
    </GroupPage>
  )
}

function metaOf({ season, crop }: ResultsAddress, choices: ResultsChoices): string {
  const named = choices.crops.find(({ taxonKey }) => taxonKey === crop)
  const made = season === null ? 'Everything on record' : `Made in the season ${seasonName(season)}`
  return `${made}${named ? `, ${cropWord(named.commonName)} only` : ''}, as at the latest look.`
}

interface NarrowProps {
  readonly slug: string
  readonly address: ResultsAddress
  readonly choices: ResultsChoices
}

function Narrow({ slug, address, choices }: NarrowProps) {
  const ofSeason = (season: number | null) => ({
    href: resultsHref(slug, { ...address, season }),
    label: season === null ? 'All seasons' : seasonName(season),
    current: address.season === season,
  })
  const ofCrop = (crop: string | null, label: string) => ({
    href: resultsHref(slug, { ...address, crop }),
    label,
    current: address.crop === crop,
  })
  return (
    <div>
      <Filters label="Season" items={[ofSeason(null), ...choices.seasons.map(ofSeason)]} />
      {choices.crops.length > 1 && (
        <Filters
          label="Crop"
          items={[
            ofCrop(null, 'All crops'),
            ...choices.crops.map(({ taxonKey, commonName }) => ofCrop(taxonKey, commonName)),
          ]}
        />
      )}
    </div>
  )
}

/** What the counts mean, before the first of them. */
function HowCounted({ results }: { readonly results: Results }) {
  const tables = sides.map((side) => results.byVariety[side])
  const attempts = tables.reduce((sum, table) => sum + table.earlyAttempts, 0)
  const pieces = tables.reduce((sum, table) => sum + table.earlyPieces, 0)
  return (
    <div className="stack-s">
      <RateKey />
      <p className="in-words read">
        The latest look at each batch counts. Still waiting means that nobody has looked; not known means that
        somebody looked and could not tell. Neither is counted as a failure.
      </p>
      {attempts > 0 && (
        <p className="in-words read">
          {counted(attempts, 'batch', 'batches')} with {counted(pieces, 'piece')}{' '}
          {attempts === 1 ? 'was' : 'were'} last looked at before day {settledAfterDays}. Buds can push and
          still die, so these may still change.
        </p>
      )}
    </div>
  )
}

interface NothingYetProps {
  readonly slug: string
  readonly isNarrowed: boolean
}

function NothingYet({ slug, isNarrowed }: NothingYetProps) {
  if (isNarrowed) {
    const everything = { season: null, crop: null }
    return (
      <Section title="Grafts and cuttings" id="none">
        <Empty
          title="Nothing of this"
          action={<ActionLink href={resultsHref(slug, everything)}>Show everything</ActionLink>}
        >
          No batch on record fits both the season and the crop.
        </Empty>
      </Section>
    )
  }
  return (
    <Section title="Grafts and cuttings" id="none">
      <Empty
        title="No results yet"
        action={<ActionLink href={`/g/${slug}/grafts`}>Record a graft or cutting</ActionLink>}
      >
        They come from what members say of their grafts and cuttings, usually from May on. An organiser can
        bring in the sheets of earlier years with npm run import.
      </Empty>
    </Section>
  )
}
