import type { Metadata } from 'next'
import Link from 'next/link'
import { notFound } from 'next/navigation'
import type { ReactNode } from 'react'
import { ActionLink } from '#app/_ui/action-link.tsx'
import { displayCode, LotCode } from '#app/_ui/code.tsx'
import { recordedDay } from '#app/_ui/dates.ts'
import { BagPreview } from '#app/_ui/labels/bag-label.tsx'
import { LatinName, VarietyName } from '#app/_ui/name.tsx'
import { Notice } from '#app/_ui/notice.tsx'
import { PageHead } from '#app/_ui/page-head.tsx'
import { Columns, Section } from '#app/_ui/section.tsx'
import { StateWord } from '#app/_ui/state-word.tsx'
import { GroupPage } from '#app/g/[group]/_frame/group-page.tsx'
import { cropWord } from '#app/g/[group]/wood/_parts/crop-word.ts'
import { bagLabelOf } from '#app/g/[group]/wood/_parts/label-of.ts'
import { LotFacts } from '#app/g/[group]/wood/_parts/lot-facts.tsx'
import { OpenHolds, ReleasedHolds } from '#app/g/[group]/wood/_parts/lot-hold.tsx'
import { LatestLook, LotInspections } from '#app/g/[group]/wood/_parts/lot-inspections.tsx'
import { LotLedger } from '#app/g/[group]/wood/_parts/lot-ledger.tsx'
import { LotTally } from '#app/g/[group]/wood/_parts/lot-tally.tsx'
import { LotWindowSection } from '#app/g/[group]/wood/_parts/lot-window.tsx'
import { sayNoWindow, sayStanding } from '#app/g/[group]/wood/_parts/say-window.ts'
import { treeWord } from '#app/g/[group]/wood/_parts/tree-word.ts'
import { lotHref } from '#app/g/[group]/wood/_parts/wood-links.ts'
import { memberContext } from '#lib/access/context.ts'
import type { CivilDate } from '#lib/kernel/civil-date.ts'
import { lotInspections } from '#lib/wood/inspections.ts'
import { getLot } from '#lib/wood/queries.ts'
import type { LotView } from '#lib/wood/view.ts'
import { wakingBudStage } from '#lib/wood/words.ts'

export async function generateMetadata(props: PageProps<'/g/[group]/wood/[code]'>): Promise<Metadata> {
  const { code } = await props.params
  return { title: `Lot ${displayCode(code)}` }
}

const doneWords: Readonly<Record<string, string>> = {
  moved: 'The move is recorded.',
  'written-off': 'The sticks are written off.',
  split: 'This is the new lot. Print a label for its bag.',
  looked: 'The look is recorded.',
  corrected: 'The entry is corrected. Both stay in the ledger.',
}

export default async function LotPage(props: PageProps<'/g/[group]/wood/[code]'>) {
  const { group: slug, code } = await props.params
  const context = await memberContext(slug)
  const { done, upTo } = await props.searchParams
  const view = await getLot(context.db, context.actor, code, typeof upTo === 'string' ? upTo : undefined)
  if (!view) notFound()
  const looks = await lotInspections(context.db, context.actor, view.lot.lotId)
  const { today } = context
  const { lot } = view
  const unit = context.person.fahrenheit ? 'F' : 'C'
  const href = lotHref(slug, lot.code)
  const notice = typeof done === 'string' ? doneWords[done] : undefined
  return (
    <GroupPage context={context} current="wood">
      <PageHead
        title={<VarietyName name={lot.varietyName} />}
        crumb={{ href: `/g/${slug}/wood`, label: 'Wood' }}
        meta={<Origin slug={slug} view={view} today={today} />}
        // An open hold says all that counts, right below.
        lead={lot.hold ? undefined : <Standing view={view} today={today} />}
      />
      {notice && <Notice>{notice}</Notice>}
      <OpenHolds slug={slug} view={view} today={today} />
      {lot.budStage >= wakingBudStage && (
        <Notice tone="soon">
          Its buds were on the move when it was cut. Such wood wakes even in a fridge: use it within days.
        </Notice>
      )}
      <LatestLook looks={looks} view={view} today={today} />
      <LotWindowSection view={view} today={today} unit={unit} href={href} />
      <Columns>
        <LotTally view={view} today={today} />
        <div className="stack-l">
          <LotFacts slug={slug} lot={lot} today={today} />
          <Section id="label" title="Label">
            <BagPreview
              label={bagLabelOf(lot, view.sums, view.window, { today, timeZone: view.timeZone, unit })}
            />
            <p className="acts">
              <ActionLink href={`${href}/label`} kind="first" small>
                Print bag and stick labels
              </ActionLink>
              {view.mayHold && !lot.hold && (
                <ActionLink href={`/g/${slug}/health/new?lot=${lot.code}`} kind="stop" small>
                  Place a hold
                </ActionLink>
              )}
            </p>
          </Section>
        </div>
      </Columns>
      <LotInspections looks={looks} view={view} today={today} slug={slug} href={href} />
      <LotLedger view={view} today={today} href={href} isLatest={upTo === undefined} />
      <ReleasedHolds slug={slug} view={view} today={today} />
    </GroupPage>
  )
}

interface OfLot {
  readonly view: LotView
  readonly today: CivilDate
}

function Origin({ slug, view: { lot }, today }: OfLot & { readonly slug: string }): ReactNode {
  const crop = cropWord(lot.commonName)
  return (
    <>
      {crop.charAt(0).toUpperCase() + crop.slice(1)}
      {lot.latinName && (
        <>
          , <LatinName>{lot.latinName}</LatinName>
        </>
      )}
      . Lot <LotCode code={lot.code} />, cut {recordedDay(lot.cutOn, today)} from{' '}
      <Link href={`/g/${slug}/trees/${lot.treeCode}`} prefetch={false}>
        {treeWord(lot)}
      </Link>{' '}
      by {lot.cutterName}.
    </>
  )
}

function Standing({ view: { lot, window, sums }, today }: OfLot): ReactNode {
  if (sums.free + sums.promised === 0) return 'No sticks of it are left in a store.'
  if (window.kind === 'none') return sayNoWindow(window.why)
  return (
    <>
      <StateWord kind={window.state} /> {sayStanding(window, { cut: lot.cutOn, today })}
    </>
  )
}
