import type { Metadata } from 'next'
import Link from 'next/link'
import { notFound } from 'next/navigation'
import { ActionLink } from '#app/_ui/action-link.tsx'
import { sharedAxis } from '#app/_ui/chart-scale.ts'
import { Empty } from '#app/_ui/empty.tsx'
import { Filters } from '#app/_ui/filters.tsx'
import { Hidden } from '#app/_ui/form/hidden.tsx'
import { TextField } from '#app/_ui/form/text-field.tsx'
import { MiniAxis } from '#app/_ui/mini-window.tsx'
import { VarietyName } from '#app/_ui/name.tsx'
import { Notice } from '#app/_ui/notice.tsx'
import { PageHead } from '#app/_ui/page-head.tsx'
import { Section } from '#app/_ui/section.tsx'
import { TallyKey } from '#app/_ui/tally.tsx'
import { GroupPage } from '#app/g/[group]/_frame/group-page.tsx'
import { CatalogueItem } from '#app/g/[group]/swaps/_parts/catalogue-row.tsx'
import { GiveBack } from '#app/g/[group]/swaps/_parts/give-back.tsx'
import { HowLimitsWork, LimitsLine } from '#app/g/[group]/swaps/_parts/limits.tsx'
import { shareCount } from '#app/g/[group]/swaps/_parts/share-words.ts'
import {
  type CatalogueAddress,
  catalogueHref,
  oneText,
  swapHref,
} from '#app/g/[group]/swaps/_parts/swap-links.ts'
import { claimingWords, whenAndWhere } from '#app/g/[group]/swaps/_parts/swap-words.ts'
import { WindowKey } from '#app/g/[group]/wood/_parts/window-key.tsx'
import { type MemberContext, memberContext } from '#lib/access/context.ts'
import { can } from '#lib/access/policy.ts'
import { getCatalogue } from '#lib/swaps/queries.ts'
import type { Catalogue } from '#lib/swaps/view.ts'

export const metadata: Metadata = { title: 'Swap catalogue' }

const doneWords: Readonly<Record<string, string>> = {
  saved: 'The swap is saved.',
  opened: 'The swap is open. Members can claim between its two times.',
  released: 'What nobody fetched has gone back to its store, or to the waiting list.',
  finished: 'The swap is finished. Every stick has its place in the ledger.',
}

export default async function CataloguePage(props: PageProps<'/g/[group]/swaps/[id]'>) {
  const { group: slug, id } = await props.params
  const query = await props.searchParams
  const context = await memberContext(slug)
  const address: CatalogueAddress = {
    crop: oneText(query['crop']),
    search: oneText(query['search']),
    free: query['free'] === 'yes',
  }
  const catalogue = await getCatalogue(context.db, context.actor, id, {
    crop: address.crop,
    search: address.search,
    onlyFree: address.free,
  })
  if (!catalogue) notFound()
  const { swap, limits } = catalogue
  const said = { timeZone: context.group.timeZone, today: context.today }
  const notice = doneWords[oneText(query['done']) ?? '']
  const isWhole = address.crop === undefined && address.search === undefined && !address.free
  return (
    <GroupPage context={context} current="swaps">
      <PageHead
        title={swap.name}
        crumb={{ href: `/g/${slug}/swaps`, label: 'Swaps' }}
        meta={`${whenAndWhere(swap, said)}. ${claimingWords(swap, said)}`}
        acts={<OrganiserWays slug={slug} catalogue={catalogue} context={context} />}
      />
      {notice && <Notice>{notice}</Notice>}
      <JustClaimed slug={slug} catalogue={catalogue} claimId={oneText(query['claimed'])} />
      {swap.note !== null && <p className="read whitespace-pre-line">{swap.note}</p>}
      <div className="panel quiet">
        <div className="flex flex-wrap items-baseline justify-between gap-x-6">
          <LimitsLine limits={limits} />
          <OwnWays slug={slug} swapId={swap.id} />
        </div>
        <HowLimitsWork limits={limits} />
      </div>
      {(catalogue.found > 0 || !isWhole) && <Narrow slug={slug} catalogue={catalogue} address={address} />}
      {catalogue.rows.length === 0 ? (
        <NothingOffered slug={slug} catalogue={catalogue} context={context} isWhole={isWhole} />
      ) : (
        <Crops slug={slug} catalogue={catalogue} context={context} />
      )}
    </GroupPage>
  )
}

interface OfCatalogue {
  readonly slug: string
  readonly catalogue: Catalogue
}

interface InContext extends OfCatalogue {
  readonly context: MemberContext
}

function OwnWays({ slug, swapId }: { readonly slug: string; readonly swapId: string }) {
  const ways = [
    ['yours', 'Your list'],
    ['wishes', 'Your wishes'],
    ['promises', 'Bring wood'],
  ] as const
  return (
    <span className="flex flex-wrap gap-x-5">
      {ways.map(([page, label]) => (
        <Link key={page} className="tap" href={swapHref(slug, swapId, page)} prefetch={false}>
          {label}
        </Link>
      ))}
    </span>
  )
}

function OrganiserWays({ slug, catalogue: { swap }, context: { actor } }: InContext) {
  const to = (page: string) => swapHref(slug, swap.id, page)
  const mayHandOver = can(actor, 'hand-over')
  const mayOffer = can(actor, 'offer-any-lot') && swap.status !== 'finished'
  if (!mayHandOver && !mayOffer) return null
  return (
    <>
      {mayHandOver && <ActionLink href={to('hand-over')}>Hand over</ActionLink>}
      {mayOffer && <ActionLink href={to('offer')}>Offer lots</ActionLink>}
      {mayHandOver && (
        <ActionLink href={to('print')} kind="plain">
          Papers of the day
        </ActionLink>
      )}
      {mayHandOver && (swap.status === 'finished' || swap.claiming === 'closed') && (
        <ActionLink href={to('review')} kind="plain">
          Look back
        </ActionLink>
      )}
      {can(actor, 'run-swaps') && (
        <>
          <ActionLink href={to('call')} kind="plain">
            Call for wood
          </ActionLink>
          <ActionLink href={to('settings')} kind="plain">
            Settings
          </ActionLink>
        </>
      )}
    </>
  )
}

function JustClaimed({ slug, catalogue, claimId }: OfCatalogue & { readonly claimId: string | undefined }) {
  const row = catalogue.rows.find(({ mine }) => mine.some((claim) => claim.claimId === claimId))
  const claim = row?.mine.find((mine) => mine.claimId === claimId && mine.status === 'promised')
  if (!row || !claim) return null
  return (
    <Notice>
      <p>
        You claimed {shareCount(claim.shares, row.sticksPerShare)} of <VarietyName name={row.varietyName} />.
        Changed your mind?
      </p>
      <GiveBack
        slug={slug}
        swapId={catalogue.swap.id}
        claimId={claim.claimId}
        varietyName={row.varietyName}
        code={row.code}
      />
    </Notice>
  )
}

function Narrow({ slug, catalogue, address }: OfCatalogue & { readonly address: CatalogueAddress }) {
  const { swap, crops, found, stillFree } = catalogue
  const to = (change: CatalogueAddress) => catalogueHref(slug, swap.id, { ...address, ...change })
  const isAll = address.crop === undefined && !address.free
  return (
    <div className="stack-s">
      <form method="get" action={swapHref(slug, swap.id)} className="flex flex-wrap items-end gap-3">
        {address.crop !== undefined && <Hidden name="crop" value={address.crop} />}
        {address.free && <Hidden name="free" value="yes" />}
        <TextField
          name="search"
          type="search"
          label="Find a variety, a crop or a lot code"
          defaultValue={address.search}
        />
        <button type="submit" className="btn second min-h-12">
          Find
        </button>
        {address.search !== undefined && (
          <Link className="tap" href={to({ search: undefined })} prefetch={false}>
            Show all again
          </Link>
        )}
      </form>
      <Filters
        label="Show"
        items={[
          { href: to({ crop: undefined, free: false }), label: 'All', count: found, current: isAll },
          ...crops.map((crop) => ({
            href: to({ crop: crop.key }),
            label: crop.name,
            count: crop.lots,
            current: address.crop === crop.key,
          })),
          {
            href: to({ free: !address.free }),
            label: 'Still free',
            count: stillFree,
            current: address.free === true,
          },
        ]}
      />
    </div>
  )
}

function NothingOffered({ slug, catalogue, context, isWhole }: InContext & { readonly isWhole: boolean }) {
  const { swap } = catalogue
  if (!isWhole) {
    return (
      <Empty
        title="Nothing here by that"
        action={<ActionLink href={swapHref(slug, swap.id)}>Show the whole catalogue</ActionLink>}
      >
        No lot on offer is what you asked for. A variety may be here under another name: try a part of it.
      </Empty>
    )
  }
  return (
    <Empty
      title="No lots are offered yet"
      action={
        can(context.actor, 'offer-any-lot') &&
        swap.status !== 'finished' && (
          <ActionLink href={swapHref(slug, swap.id, 'offer')} kind="first">
            Offer lots
          </ActionLink>
        )
      }
    >
      Lots come here once they are cut, stored and offered, usually two to four weeks before the swap.
    </Empty>
  )
}

function Crops({ slug, catalogue, context: { today } }: InContext) {
  const { rows, swap } = catalogue
  const axis = sharedAxis(
    rows.flatMap(({ window, cutOn }) =>
      window.kind === 'window' ? [{ cut: cutOn, late: window.late }] : [],
    ),
    today,
    swap.heldOn,
  )
  const crops = [...new Set(rows.map((row) => row.commonName))]
  return (
    <>
      {crops.map((crop, i) => (
        <section key={crop} className="sec" aria-labelledby={`crop-${i}`}>
          <div className="cat-head">
            <h2 id={`crop-${i}`}>{crop ?? 'Not named'}</h2>
            <MiniAxis axis={axis} today={today} swap={swap.heldOn} />
            <span className="note wide-only">Sticks</span>
          </div>
          <ul className="rows cat">
            {rows
              .filter((row) => row.commonName === crop)
              .map((row) => (
                <CatalogueItem
                  key={row.offeringId}
                  slug={slug}
                  swap={swap}
                  row={row}
                  axis={axis}
                  today={today}
                />
              ))}
          </ul>
        </section>
      ))}
      <Section id="key" title="What the drawings say">
        <TallyKey />
        <WindowKey />
        <p className="note">
          Shared wood can carry disease that nobody sees in winter: a lot here is no promise of health. Rules
          on moving plants differ from place to place. Ask your agricultural authority before you take wood
          out of your area.
        </p>
      </Section>
    </>
  )
}
