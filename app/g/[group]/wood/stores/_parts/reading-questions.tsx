import { longDay } from '#app/_ui/dates.ts'
import { GetForm } from '#app/_ui/form/get-form.tsx'
import { PickGroup } from '#app/_ui/form/pick-group.tsx'
import { SelectField } from '#app/_ui/form/select-field.tsx'
import { SubmitButton } from '#app/_ui/form/submit-button.tsx'
import type { LoggerQuestions } from '#lib/formats/csv/read-logger.ts'
import type { ImportAnswers } from '#lib/wood/import-input.ts'

interface ReadingQuestionsProps {
  readonly action: string
  readonly questions: LoggerQuestions | null
  readonly answers: ImportAnswers
  readonly timeZone: string
}

const asText = (value: number | string | null) => (value === null ? '' : String(value))

/** What the file itself does not say, to be answered; and how its clock is read, to be changed. */
export function ReadingQuestions({ action, questions, answers, timeZone }: ReadingQuestionsProps) {
  const columns = (questions?.columns ?? []).map(({ at, heading, example }) => ({
    value: String(at),
    label: `${heading || `Column ${at + 1}`}${example ? `: ${example}` : ''}`,
  }))
  const { days } = questions ?? { days: null }
  const asksDays = days !== null || answers.days !== null
  const asksUnit = questions?.asksForUnit || answers.unit !== null
  return (
    <GetForm
      action={action}
      values={{
        days: asText(answers.days),
        unit: asText(answers.unit),
        clock: answers.clock,
        timeColumn: asText(answers.timeColumn),
        temperatureColumn: asText(answers.temperatureColumn),
      }}
      errors={{}}
      id="answers"
      label="How the file is read"
    >
      {(questions?.asksForTime || answers.timeColumn !== null) && columns.length > 0 && (
        <SelectField name="timeColumn" label="Which column has the time?" options={columns} empty="Choose" />
      )}
      {(questions?.asksForTemperature || answers.temperatureColumn !== null) && columns.length > 0 && (
        <SelectField
          name="temperatureColumn"
          label="Which column has the temperature?"
          options={columns}
          empty="Choose"
        />
      )}
      {columns.length === 0 && answers.timeColumn !== null && (
        <input type="hidden" name="timeColumn" value={answers.timeColumn} />
      )}
      {columns.length === 0 && answers.temperatureColumn !== null && (
        <input type="hidden" name="temperatureColumn" value={answers.temperatureColumn} />
      )}
      {asksUnit && (
        <PickGroup
          name="unit"
          legend="In which unit are the temperatures?"
          inRow
          options={[
            { value: 'C', label: '°C' },
            { value: 'F', label: '°F' },
          ]}
        />
      )}
      {asksDays && (
        <PickGroup
          name="days"
          legend={days ? `What does “${days.text}” mean?` : 'Which comes first?'}
          options={[
            { value: 'dmy', label: days ? longDay(days.readings[0]) : 'The day', note: 'day before month' },
            { value: 'mdy', label: days ? longDay(days.readings[1]) : 'The month', note: 'month before day' },
          ]}
        />
      )}
      <PickGroup
        name="clock"
        legend="What does the logger’s clock show?"
        help="Only for times that do not name their own zone."
        options={[
          {
            value: 'wall',
            label: `The time on the wall (${timeZone})`,
            note: 'put forward in spring and back in autumn',
          },
          { value: 'utc', label: 'UTC all year' },
        ]}
      />
      <p>
        <SubmitButton kind={questions ? 'first' : 'second'}>Look again</SubmitButton>
      </p>
    </GetForm>
  )
}
