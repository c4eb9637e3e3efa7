import type { CivilDate } from '#lib/kernel/civil-date.ts'
import { dayWords } from '#lib/people/day-words.ts'
import type { Database, Queries } from '#lib/platform/database/database.ts'

export interface RequestLetter {
  readonly to: string
  readonly keeper: string
  readonly asker: string
  readonly groupName: string
  readonly swapName: string
  readonly variety: string
  readonly limb: string
  readonly sticks: number
  readonly bringBy: CivilDate | null
  readonly note: string | null
  readonly link: string
}

/** Puts the letter that asks a keeper for wood, or asks again, into the outbox. */
export async function writeRequestLetter(
  tx: Queries,
  db: Database,
  letter: RequestLetter,
  isReminder: boolean,
): Promise<void> {
  const { keeper, asker, swapName, variety, limb, sticks, bringBy, note, link } = letter
  await tx.outboxMail.create({
    data: {
      id: db.newId(),
      toAddress: letter.to,
      subject: `${isReminder ? 'A reminder: can' : 'Can'} you bring ${variety} to ${swapName}?`,
      body: [
        `Dear ${keeper},`,
        '',
        `${asker} asks for ${sticks} stick${sticks === 1 ? '' : 's'} of ${variety}, from ${limb}, for ${swapName}${bringBy ? `, by ${dayWords(bringBy)}` : ''}.`,
        ...(note ? ['', note] : []),
        '',
        'Say yes or no here:',
        '',
        link,
        '',
        'Cut clean, dormant wood, wipe the blade between trees, and do not bring wood of a tree that looks ill.',
        `This comes from ${letter.groupName}.`,
      ].join('\n'),
    },
  })
}
