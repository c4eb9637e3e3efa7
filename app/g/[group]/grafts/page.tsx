import type { Metadata } from 'next'
import { ActionLink } from '#app/_ui/action-link.tsx'
import { longDay } from '#app/_ui/dates.ts'
import { Empty } from '#app/_ui/empty.tsx'
import { counted } from '#app/_ui/measures.ts'
import { PageHead } from '#app/_ui/page-head.tsx'
import { Section } from '#app/_ui/section.tsx'
import { AttemptRows } from '#app/g/[group]/grafts/_parts/attempt-rows.tsx'
import { CareWaiting } from '#app/g/[group]/grafts/_parts/care-waiting.tsx'
import { DueBatch } from '#app/g/[group]/grafts/_parts/due-batch.tsx'
import { GrowerForm } from '#app/g/[group]/grafts/_parts/grower-form.tsx'
import { WoodInHand } from '#app/g/[group]/grafts/_parts/wood-in-hand.tsx'
import { DoneNotice } from '#app/g/[group]/people/_parts/done-notice.tsx'
import { memberContext } from '#lib/access/context.ts'
import { can } from '#lib/access/policy.ts'
import { dueAmong, listAttempts, receivedWood } from '#lib/attempts/queries.ts'
import { careDue } from '#lib/care/queries.ts'
import { isUuid } from '#lib/kernel/id.ts'
import { memberChoices } from '#lib/people/queries.ts'
import { GroupPage } from '../_frame/group-page.tsx'

export const metadata: Metadata = { title: 'My grafts' }

export default async function GraftsPage(props: PageProps<'/g/[group]/grafts'>) {
  const [{ group: slug }, { for: asked, done }] = await Promise.all([props.params, props.searchParams])
  const context = await memberContext(slug)
  const { db, actor, today } = context
  const mayActForOthers = can(actor, 'act-for-others')
  const growerId = mayActForOthers && typeof asked === 'string' && isUuid(asked) ? asked : actor.memberId
  const isOwn = growerId === actor.memberId
  const [attempts, care, wood, members] = await Promise.all([
    listAttempts(db, actor, { growerId }),
    careDue(db, actor, { growerId }),
    receivedWood(db, actor, growerId),
    mayActForOthers ? memberChoices(db, actor) : [],
  ])
  const standing = attempts.filter((attempt) => attempt.withdrawn === null)
  const withdrawn = attempts.filter((attempt) => attempt.withdrawn !== null)
  const due = dueAmong(standing)
  const rest = standing.filter((attempt) => !due.some((check) => check.attempt.id === attempt.id))
  const name = isOwn ? null : (members.find((member) => member.id === growerId)?.name ?? 'somebody')
  const newPath = `/g/${slug}/grafts/new${isOwn ? '' : `?for=${growerId}`}`
  return (
    <GroupPage context={context} current="grafts">
      <DoneNotice done={done} words={{ morning: 'The morning’s work is on record.' }} />
      <PageHead
        title={name ? `Grafts of ${name}` : 'My grafts'}
        meta={`${longDay(today)}. ${counted(standing.length, 'batch', 'batches')}, ${due.length > 0 ? `${due.length} with a look due` : 'no look due'}.`}
        acts={
          <>
            <ActionLink href={newPath} kind={due.length > 0 ? 'second' : 'first'}>
              Record a graft or cutting
            </ActionLink>
            <ActionLink href={`/g/${slug}/grafts/morning${isOwn ? '' : `?for=${growerId}`}`}>
              A morning’s work
            </ActionLink>
          </>
        }
      />
      {mayActForOthers && (
        <GrowerForm
          path={`/g/${slug}/grafts`}
          members={members}
          growerId={growerId}
          selfId={actor.memberId}
        />
      )}
      {due.length > 0 && (
        <Section title="Look now" id="due">
          <div className="stack-l">
            {due.map((check, i) => (
              <DueBatch key={check.attempt.id} slug={slug} due={check} today={today} isFirst={i === 0} />
            ))}
          </div>
        </Section>
      )}
      {care.length > 0 && (
        <Section title="Care that waits" id="care">
          <CareWaiting slug={slug} due={care} today={today} />
        </Section>
      )}
      {wood.length > 0 && (
        <Section title={name ? `With ${name}` : 'With you, not used yet'} id="wood">
          <WoodInHand slug={slug} wood={wood} today={today} growerId={isOwn ? null : growerId} />
        </Section>
      )}
      {rest.length > 0 && (
        <Section title="Nothing due" id="rest">
          <AttemptRows slug={slug} attempts={rest} today={today} caption="Batches with nothing due" />
        </Section>
      )}
      {standing.length === 0 && (
        <Section title="On record" id="none">
          <Empty
            title="No grafts or cuttings on record"
            action={<ActionLink href={newPath}>Record one</ActionLink>}
          >
            They usually come in March and April, after the swap. Record a batch when it is made: what, on
            what, how many. We ask for a first look some weeks later.
          </Empty>
        </Section>
      )}
      {withdrawn.length > 0 && (
        <details>
          <summary>{counted(withdrawn.length, 'withdrawn entry', 'withdrawn entries')}</summary>
          <AttemptRows slug={slug} attempts={withdrawn} today={today} caption="Withdrawn entries" />
        </details>
      )}
    </GroupPage>
  )
}
