import type { Metadata } from 'next'
import { notFound } from 'next/navigation'
import { ActionLink } from '#app/_ui/action-link.tsx'
import { LotCode } from '#app/_ui/code.tsx'
import { longDay } from '#app/_ui/dates.ts'
import { Facts } from '#app/_ui/facts.tsx'
import { counted } from '#app/_ui/measures.ts'
import { VarietyName } from '#app/_ui/name.tsx'
import { Notice } from '#app/_ui/notice.tsx'
import { PageHead } from '#app/_ui/page-head.tsx'
import { Section } from '#app/_ui/section.tsx'
import { StateWord } from '#app/_ui/state-word.tsx'
import { GroupPage } from '#app/g/[group]/_frame/group-page.tsx'
import { cropWord } from '#app/g/[group]/wood/_parts/crop-word.ts'
import { sayLimits, sayNoWindow } from '#app/g/[group]/wood/_parts/say-window.ts'
import { treeWord } from '#app/g/[group]/wood/_parts/tree-word.ts'
import { WindowKey } from '#app/g/[group]/wood/_parts/window-key.tsx'
import { lotHref } from '#app/g/[group]/wood/_parts/wood-links.ts'
import { memberContext } from '#lib/access/context.ts'
import type { CivilDate } from '#lib/kernel/civil-date.ts'
import { getSession } from '#lib/wood/queries.ts'
import type { SessionLot, SessionView } from '#lib/wood/view.ts'
import { budStageWord, toolCareWords, wakingBudStage } from '#lib/wood/words.ts'

export const metadata: Metadata = { title: 'Cutting session' }

export default async function SessionPage(props: PageProps<'/g/[group]/wood/sessions/[id]'>) {
  const { group: slug, id } = await props.params
  const context = await memberContext(slug)
  const { done } = await props.searchParams
  const session = await getSession(context.db, context.actor, id)
  if (!session) notFound()
  const sticks = session.lots.reduce((sum, { sums }) => sum + sums.cut, 0)
  const { today } = context
  return (
    <GroupPage context={context} current="wood">
      <PageHead
        title={`Cut on ${longDay(session.cutOn, today)}`}
        crumb={{ href: `/g/${slug}/wood`, label: 'Wood' }}
        meta={`${session.cutterName}: ${counted(session.lots.length, 'lot')}, ${counted(sticks, 'stick')}.`}
        acts={
          <ActionLink href={`/g/${slug}/wood/sessions/${id}/labels`} kind="first">
            Print the labels
          </ActionLink>
        }
      />
      {done === 'logged' && (
        <Notice>
          The session is saved. Print the labels now, while you know which bundle is which, and put one on
          every stick.
        </Notice>
      )}
      <WakingBuds lots={session.lots} />
      <Section id="lots" title="Its lots, as they were cut">
        <ol className="rows">
          {session.lots.map((lot) => (
            <LotLine key={lot.lot.lotId} slug={slug} of={lot} today={today} />
          ))}
        </ol>
        <WindowKey />
      </Section>
      <Section id="session" title="The session">
        <SessionFacts session={session} />
        <p className="acts">
          <ActionLink href={`/g/${slug}/wood/log`}>Log another session</ActionLink>
        </p>
      </Section>
    </GroupPage>
  )
}

function WakingBuds({ lots }: { readonly lots: readonly SessionLot[] }) {
  const waking = lots.filter(({ lot }) => lot.budStage >= wakingBudStage)
  if (waking.length === 0) return null
  return (
    <Notice tone="soon">
      <p>
        <b>{counted(waking.length, 'lot')} with buds on the move.</b> Such wood wakes even in a fridge. Keep
        it as near to 0 °C as you can without freezing it, and use it within days.
      </p>
    </Notice>
  )
}

interface LotLineProps {
  readonly slug: string
  readonly of: SessionLot
  readonly today: CivilDate
}

function LotLine({ slug, of: { lot, sums, window }, today }: LotLineProps) {
  return (
    <li className="stack-s">
      <p className="flex flex-wrap items-baseline justify-between gap-x-4">
        <span>
          <LotCode code={lot.code} href={lotHref(slug, lot.code)} /> <VarietyName name={lot.varietyName} />{' '}
          <span className="soft">
            {cropWord(lot.commonName)}, {treeWord(lot)}
          </span>
        </span>
        <span className="nb">
          <b>{sums.cut}</b> {sums.cut === 1 ? 'stick' : 'sticks'}
        </span>
      </p>
      <p className="flex flex-wrap items-baseline gap-x-4">
        {lot.hold && <StateWord kind="hold" />}
        {window.kind === 'window' ? (
          <>
            <StateWord kind={window.state} />
            <span className="soft">{sayLimits(window, { cut: lot.cutOn, today })}</span>
          </>
        ) : (
          <span className="soft">{sayNoWindow(window.why)}</span>
        )}
        <span className="soft">buds {budStageWord(lot.budStage)}</span>
        <span className="soft">in {lot.storeName ?? 'a store nobody named'}</span>
      </p>
    </li>
  )
}

function SessionFacts({ session }: { readonly session: SessionView }) {
  return (
    <Facts
      items={[
        ['Cut by', session.cutterName],
        session.recordedBy !== session.cutterName && ['Written down by', session.recordedBy],
        ['Tool', `${session.tool ? `${session.tool}, ` : ''}${toolCareWords(session.toolCare)}`],
        session.weather !== null && ['Wood was', session.weather],
        session.note !== null && ['Note', session.note],
      ]}
    />
  )
}
