import Link from 'next/link'
import { recordedDay } from '#app/_ui/dates.ts'
import { Facts } from '#app/_ui/facts.tsx'
import { Section } from '#app/_ui/section.tsx'
import { healthWords } from '#app/g/[group]/wood/_parts/label-of.ts'
import type { CivilDate } from '#lib/kernel/civil-date.ts'
import { identityWords } from '#lib/trees/identity.ts'
import { protectionWords } from '#lib/varieties/protection.ts'
import type { LotRow } from '#lib/wood/lot-rows.ts'
import { diameterWord, lotKindWord, toolCareWords } from '#lib/wood/words.ts'

interface LotFactsProps {
  readonly slug: string
  readonly lot: LotRow
  readonly today: CivilDate
}

/** What the group knows of a lot's wood. */
export function LotFacts({ slug, lot, today }: LotFactsProps) {
  const checked = lot.protectionCheckedOn && `, checked ${recordedDay(lot.protectionCheckedOn, today)}`
  return (
    <Section id="known" title="What we know of it">
      <Facts
        items={[
          ['Name', lot.varietyName === null ? 'the limb has no name yet' : identityWords[lot.identity]],
          ['Health', healthWords(lot)],
          lot.healthNote !== null && ['Seen', lot.healthNote],
          lot.protection && [
            'Protection',
            `${protectionWords[lot.protection].toLowerCase()}${checked ?? ''}`,
          ],
          ['Wood', `${lotKindWord(lot.kind).toLowerCase()}, ${diameterWord(lot.diameter).toLowerCase()}`],
          [
            'Session',
            <>
              <Link href={`/g/${slug}/wood/sessions/${lot.sessionId}`} prefetch={false}>
                {recordedDay(lot.cutOn, today)}
              </Link>
              , {toolCareWords(lot.toolCare)}
            </>,
          ],
          lot.note !== null && ['Note', lot.note],
        ]}
      />
    </Section>
  )
}
