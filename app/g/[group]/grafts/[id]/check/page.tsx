import type { Metadata } from 'next'
import { notFound } from 'next/navigation'
import { longDay } from '#app/_ui/dates.ts'
import { PageHead } from '#app/_ui/page-head.tsx'
import { Refusal } from '#app/_ui/refusal.tsx'
import { AttemptTitle } from '#app/g/[group]/grafts/_parts/attempt-title.tsx'
import { CheckForm } from '#app/g/[group]/grafts/_parts/check-form.tsx'
import { memberContext } from '#lib/access/context.ts'
import { nextLook } from '#lib/attempts/next-look.ts'
import { getAttempt } from '#lib/attempts/queries.ts'
import { attemptsRefusalWords } from '#lib/attempts/refusal-words.ts'
import { checkpointKeys, checkpointQuestions } from '#lib/grafting/checkpoints.ts'
import { GroupPage } from '../../../_frame/group-page.tsx'

export const metadata: Metadata = { title: 'Record a look' }

export default async function CheckPage(props: PageProps<'/g/[group]/grafts/[id]/check'>) {
  const [{ group: slug, id }, query] = await Promise.all([props.params, props.searchParams])
  const context = await memberContext(slug)
  const attempt = await getAttempt(context.db, context.actor, id)
  if (!attempt) notFound()
  const wrong = query['corrects']
  const corrects = attempt.checks.find((check) => check.id === wrong && !check.isCorrected) ?? null
  if (wrong !== undefined && !corrects) notFound()
  const due = nextLook(attempt.looks)
  const asked = corrects ? corrects.checkpoint : due && due.state !== 'next' ? due.name : null
  const checkpoint = checkpointKeys.find((key) => key === asked) ?? null
  return (
    <GroupPage context={context} current="grafts">
      <PageHead
        title={corrects ? 'Correct a look' : 'What did you see?'}
        crumb={{
          href: `/g/${slug}/grafts/${id}`,
          label: (
            <span>
              <AttemptTitle attempt={attempt} />
            </span>
          ),
        }}
        meta={`${checkpoint ? `${checkpointQuestions[checkpoint]} ` : ''}${attempt.method.name}, made ${longDay(attempt.madeOn, context.today)}.`}
        lead={
          corrects
            ? 'The look as it was stays to be read, marked as corrected.'
            : 'A dead graft counts as much as a live one.'
        }
      />
      {attempt.withdrawn ? (
        <Refusal {...attemptsRefusalWords({ kind: 'withdrawn', reason: attempt.withdrawn.reason })} />
      ) : (
        <CheckForm
          slug={slug}
          attempt={attempt}
          today={context.today}
          corrects={corrects}
          checkpoint={checkpoint}
        />
      )}
    </GroupPage>
  )
}
