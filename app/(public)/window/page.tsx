import type { Metadata } from 'next'
import { PageHead } from '#app/_ui/page-head.tsx'
import { PublicFrame } from '#app/_ui/public-frame.tsx'
import { Section } from '#app/_ui/section.tsx'
import { caution } from '#app/(public)/window/_parts/answer-words.ts'
import { QuestionForm } from '#app/(public)/window/_parts/question-form.tsx'
import { addressOf, queryTexts, unitOf } from '#app/(public)/window/_parts/question-words.ts'
import { WindowAnswerSection } from '#app/(public)/window/_parts/window-answer.tsx'
import { publicContext } from '#lib/access/context.ts'
import { currentLogin } from '#lib/access/session.ts'
import { askWindow } from '#lib/wood/ask-window.ts'
import { type AskedWood, askedProfiles } from '#lib/wood/window-question.ts'

export const metadata: Metadata = {
  title: 'How long will this wood keep?',
  description: 'A storage-window calculator for scion wood, budwood and hardwood cuttings.',
}

const noErrors = {}

const cropName = (key: string | undefined) =>
  key === 'unknown_decid' ? 'Other' : (askedProfiles.find((profile) => profile.key === key)?.name ?? '')

export default async function WindowPage(props: PageProps<'/window'>) {
  const texts = queryTexts(await props.searchParams)
  const login = await currentLogin()
  const isAsked = Object.keys(texts).length > 0
  const asked = isAsked ? askWindow(texts, publicContext().db.now()) : null
  return (
    <PublicFrame wide signedIn={login !== null}>
      <PageHead
        title="How long will this wood keep?"
        lead="Say what was cut, when, and how cold it is kept. Nothing is stored, and no account is needed."
      />
      {asked?.ok && (
        <WindowAnswerSection
          answer={asked.value}
          wood={(texts['wood'] ?? 'scion_wood') as AskedWood}
          crop={cropName(texts['crop'])}
          rate={texts['rate']}
          unit={unitOf(texts)}
        />
      )}
      {asked?.ok ? (
        <Section id="again" title="Ask again">
          <QuestionForm values={texts} errors={noErrors} />
        </Section>
      ) : (
        <QuestionForm values={texts} errors={asked ? asked.refusal.fields : noErrors} />
      )}
      {!asked?.ok && <p className="note read">{caution}</p>}
      <AsData address={asked?.ok ? addressOf(texts) : 'crop=apple&cut=2027-01-11&celsius=4'} />
    </PublicFrame>
  )
}

/** How the same answer is had by a program. */
function AsData({ address }: { readonly address: string }) {
  return (
    <Section id="data" title="The same as data">
      <div className="stack-s read">
        <p>
          The address of this page holds the whole question, so it can be passed on. The same question at{' '}
          <a href={`/api/window?${address}`}>/api/window</a> is answered as JSON: the three limits, which
          clock sets them, how it stands, what it rests on, and the sentences of this page.
        </p>
        <details>
          <summary>Its fields</summary>
          <dl className="note stack-s">
            {fieldNotes.map(([name, note]) => (
              <div key={name}>
                <dt>
                  <code>{name}</code>
                </dt>
                <dd>{note}</dd>
              </div>
            ))}
          </dl>
          <p className="note">
            What is wrong with a question comes back with status 400 and <code>errors</code>, a list of
            sentences for each field.
          </p>
        </details>
      </div>
    </Section>
  )
}

const fieldNotes: readonly (readonly [string, string])[] = [
  ['crop', `must be there; one of ${askedProfiles.map(({ key }) => key).join(', ')}`],
  ['cut', 'must be there; the day of cutting, as 2027-01-11'],
  ['wood', 'scion_wood, hardwood_cuttings or budwood; scion_wood when left out'],
  ['celsius', 'a number in °C, or with an F behind it; an unread fridge when left out'],
  ['history', 'lines of a day, a time if known, and a temperature; goes before celsius'],
  ['buds', 'the stage on the BBCH scale, 0 to 99; 0 when left out'],
  ['packing', 'bare, paper, open_bag, sealed_bag, sealed_damp or waxed_sealed'],
  ['swap', 'the day on which it is wanted'],
  ['rate', 'how many of 100 take'],
]
