import { randomUUID } from 'node:crypto'
import { dayMonth, recordedDay } from '#app/_ui/dates.ts'
import { ActionForm } from '#app/_ui/form/action-form.tsx'
import { DateField } from '#app/_ui/form/date-field.tsx'
import { Hidden } from '#app/_ui/form/hidden.tsx'
import { OnceKey } from '#app/_ui/form/once-key.tsx'
import { SubmitButton } from '#app/_ui/form/submit-button.tsx'
import { TextField } from '#app/_ui/form/text-field.tsx'
import { Rows } from '#app/_ui/rows.tsx'
import { StateWord } from '#app/_ui/state-word.tsx'
import { Tag } from '#app/_ui/tag.tsx'
import { answerCareAction } from '#app/g/[group]/grafts/actions.ts'
import { basisWords } from '#lib/care/basis-words.ts'
import type { CareView } from '#lib/care/view.ts'
import { addDays, type CivilDate } from '#lib/kernel/civil-date.ts'

interface CareListProps {
  readonly slug: string
  readonly attemptId: string
  readonly care: readonly CareView[]
  readonly today: CivilDate
  readonly mayAnswer: boolean
}

const isNow = ({ state }: CareView): boolean =>
  state === 'open' || state === 'overdue' || state === 'overdue-strong'

/** The care of one batch: what waits now with its advice, then what is to come, then what was said. */
export function CareList(props: CareListProps) {
  const now = props.care
    .filter(isNow)
    .toSorted((a, b) => Number(b.state === 'overdue-strong') - Number(a.state === 'overdue-strong'))
  const coming = props.care.filter(({ state }) => state === 'coming')
  const settled = props.care.filter(({ state }) => state === 'settled' || state === 'passed')
  return (
    <div className="stack">
      {now.length > 0 ? (
        <Rows>
          {now.map((view) => (
            <li key={view.task.id} className="stack-s" id={`care-${view.task.id}`}>
              <CareNow view={view} {...props} />
            </li>
          ))}
        </Rows>
      ) : (
        <p>Nothing waits now.</p>
      )}
      <Later title="To come" views={coming} today={props.today} />
      <Later title="Done, not needed, or passed" views={settled} today={props.today} />
    </div>
  )
}

/** How urgent a task is, in a word with its mark. */
export function CareUrgency({ view }: { readonly view: Pick<CareView, 'state'> }) {
  if (view.state === 'overdue-strong') return <StateWord kind="hold">Overdue: may strangle</StateWord>
  if (view.state === 'overdue') return <StateWord kind="soon">Overdue</StateWord>
  return <StateWord kind="info">Now</StateWord>
}

function CareNow({ view, slug, attemptId, today, mayAnswer }: CareListProps & { readonly view: CareView }) {
  const { task, answer, dueOn } = view
  return (
    <>
      <p>
        <CareUrgency view={view} /> <b>{task.title}</b>, by {recordedDay(dueOn, today)}
      </p>
      <p>{task.words}</p>
      {answer?.answer === 'deferred' && (
        <p className="note">
          Put off on {dayMonth(answer.on)} by {answer.by}: “{answer.reason}”
        </p>
      )}
      <Advice task={task} />
      {mayAnswer && <CareForm slug={slug} attemptId={attemptId} task={task} today={today} />}
    </>
  )
}

function Advice({ task }: Pick<CareView, 'task'>) {
  return (
    <ul className="note stack-s">
      <li>{basisWords(task.basis)}</li>
      {task.otherAdvice.map(({ says, basis }) => (
        <li key={says}>
          Others say: {says} {basisWords(basis)}
        </li>
      ))}
    </ul>
  )
}

interface CareFormProps extends Pick<CareView, 'task'> {
  readonly slug: string
  readonly attemptId: string
  readonly today: CivilDate
}

function CareForm({ slug, attemptId, task, today }: CareFormProps) {
  const same = (
    <>
      <Hidden name="group" value={slug} />
      <OnceKey value={randomUUID()} />
      <Hidden name="attemptId" value={attemptId} />
      <Hidden name="task" value={task.id} />
    </>
  )
  return (
    <div className="stack-s">
      <ActionForm action={answerCareAction} label={task.title} className="form">
        {same}
        <div className="acts">
          <SubmitButton kind="second" small name="answer" value="done" pending="Saving">
            Done
          </SubmitButton>
          <SubmitButton kind="plain" small name="answer" value="not_needed" pending="Saving">
            Not needed
          </SubmitButton>
        </div>
      </ActionForm>
      <details>
        <summary>Put it off</summary>
        <ActionForm
          action={answerCareAction}
          values={{ until: addDays(today, 14) }}
          label={`Put off: ${task.title}`}
          className="form read"
        >
          {same}
          <Hidden name="answer" value="deferred" />
          <DateField name="until" label="Until" min={addDays(today, 1)} />
          <TextField name="reason" label="Why" help="Such as: it still sits loosely." maxLength={400} />
          <SubmitButton kind="second" pending="Putting it off">
            Put it off
          </SubmitButton>
        </ActionForm>
      </details>
    </div>
  )
}

interface LaterProps {
  readonly title: string
  readonly views: readonly CareView[]
  readonly today: CivilDate
}

function Later({ title, views, today }: LaterProps) {
  if (views.length === 0) return null
  return (
    <details>
      <summary>
        {title} ({views.length})
      </summary>
      <Rows>
        {views.map((view) => (
          <li key={view.task.id}>
            <p>
              {view.task.title}, {recordedDay(view.dueOn, today)} <Said view={view} />
            </p>
          </li>
        ))}
      </Rows>
    </details>
  )
}

function Said({ view: { answer, state } }: { readonly view: CareView }) {
  if (state === 'passed') return <Tag>its turn has passed</Tag>
  if (!answer) return null
  const words = { done: 'done', deferred: 'put off', not_needed: 'not needed' }[answer.answer]
  return (
    <span className="note">
      {words}, {dayMonth(answer.on)}, {answer.by}
      {answer.reason && `: “${answer.reason}”`}
    </span>
  )
}
