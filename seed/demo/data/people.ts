import type { Role } from '#lib/access/actor.ts'

/** How practised a person's hands are. Becomes the skill band of an attempt, and moves its true chance. */
export type Hands = 'first_ten' | 'ten_to_hundred' | 'over_hundred'

export interface CastMember {
  /** First name in small letters: how the other data files and the acts refer to this person. */
  readonly key: string
  readonly name: string
  readonly role: Role
  /** Null for somebody who has no account; others act for them. */
  readonly email: string | null
  /** Years before the demo's present in which they joined; a newcomer's is a fraction. */
  readonly yearsAgo: number
  readonly hands: Hands
  readonly phone?: string
  readonly note?: string
}

type Row = readonly [name: string, yearsAgo: number, hands: Hands, extra?: Partial<CastMember>]

const plain = (text: string) => text.normalize('NFKD').replace(/[\u0300-\u036f]/g, '')

function person([name, yearsAgo, hands, extra]: Row): CastMember {
  const [first = '', ...rest] = plain(name).toLowerCase().split(' ')
  const email = `${first}.${rest.join('').replace(/[^a-z]/g, '')}@marrowlane.example`
  return { key: first, name, role: 'member', email, yearsAgo, hands, ...extra }
}

const few = 'first_ten'
const some = 'ten_to_hundred'
const many = 'over_hundred'

/**
 * Everybody in the Marrow Lane Orchard Circle. All are invented; the telephone numbers are of the range that is
 * kept free for drama (from memory). The founder comes first.
 */
export const cast: readonly CastMember[] = (
  [
    ['Nell Fairweather', 8.4, many, { role: 'organiser', phone: '01632 960 114' }],
    ['Greta Lindqvist', 8.1, many, { role: 'steward', phone: '01632 960 127' }],
    ['Joss Pemberley', 7.9, many, { role: 'helper', phone: '01632 960 131' }],
    ['Priya Nandakumar', 7.1, many, { role: 'helper' }],
    ['Samir Haddad', 6.2, some, { role: 'helper', phone: '01632 960 145' }],
    ['Wren Halloway', 5.3, some],
    ['Idris Quayle', 7.4, many],
    ['Callum Breck', 4.2, some],
    ['Fenna de Wit', 6.6, many],
    ['Maud Ekström', 7.7, some],
    ['Odile Marchetti', 5.8, some],
    ['Tobias Achterberg', 4.9, some],
    [
      'Alder Wickens',
      8.2,
      many,
      {
        email: null,
        phone: '01632 960 158',
        note: 'No e-mail. Ring before eight in the morning, or ask Joss.',
      },
    ],
    [
      'Hester Copley',
      6.9,
      some,
      {
        email: null,
        phone: '01632 960 162',
        note: 'Priya brings her list to the swap and takes her wood home.',
      },
    ],
    ['Anselm Thorogood', 8.0, many],
    ['Beatrix Oyelaran', 7.3, some],
    ['Cosmo Ferrant', 6.8, some],
    ['Delphine Achard', 6.4, some],
    ['Edmund Sallow', 7.8, many],
    ['Farida Benslimane', 5.9, some],
    ['Gethin Prosser', 7.2, many],
    ['Hanneke Vos', 5.1, some],
    ['Imogen Tarrant', 6.1, some],
    ['Jarek Wolski', 4.8, some],
    ['Kezia Mbeki-Rowe', 4.4, some],
    ['Lorcan Dunphy', 5.6, some],
    ['Marigold Penhale', 7.0, many],
    ['Niamh Corrigan', 3.9, some],
    ['Oswin Battersby', 7.6, some],
    ['Petra Hrubá', 3.6, few],
    ['Quentin Ashdown', 5.4, some],
    ['Rosalba Tindall', 4.1, some],
    ['Silas Greaves', 6.7, many],
    ['Tamsin Orchard-Lee', 3.2, few],
    ['Ursel Brandt', 4.6, some],
    ['Viola Marchbanks', 5.0, some],
    ['Wilf Garraway', 7.5, some],
    ['Xanthe Polidori', 2.9, few],
    ['Yusuf Demirci', 3.4, some],
    ['Zelda Crowhurst', 2.8, few],
    ['Arlo Stennett', 3.1, few],
    ['Bronwen Gwilt', 5.2, some],
    ['Caspian Rook', 2.7, few],
    ['Dorothea Lamb', 6.3, some],
    ['Elspeth Mackilligin', 4.3, some],
    ['Florian Etxeberria', 2.6, few],
    ['Gwendolen Tuke', 3.8, some],
    ['Harriet Osei', 2.5, few],
    ['Ivo Lanchester', 3.3, few],
    ['Juniper Allsop', 2.4, few],
    ['Kit Merriweather', 2.9, few],
    ['Linnea Sandell', 3.0, few],
    ['Mungo Peverell', 2.6, few],
    ['Noor Rahimi', 1.9, few],
    ['Ottilie Frayne', 1.8, few],
    ['Piers Wainfleet', 1.6, few, { note: 'Has a van, and will fetch.' }],
    ['Rafferty Bligh', 0.9, few],
    ['Saskia Molenaar', 0.12, few],
    ['Thora Ellingsen', 0.08, few],
    ['Umber Castellan', 0.05, few],
  ] satisfies Row[]
).map(person)

/** Joined, helped for years, and moved away. */
export const departed: CastMember = person([
  'Leopold Varley',
  7.0,
  some,
  { note: 'Moved to the coast. His trees went with the garden.' },
])

/** Invited, and has not answered yet. */
export const invitedEmail = 'ines.carvalho@marrowlane.example'

/** The second group, so small that it fits in one person's garden. Idris belongs to both. */
export const hollowBank = {
  slug: 'hollow-bank',
  name: 'Hollow Bank Growers',
  founder: { name: 'Bram Oosterveld', email: 'bram.oosterveld@hollowbank.example' },
  members: [
    { name: 'Cicely Farrow', email: 'cicely.farrow@hollowbank.example' },
    { name: 'Humphrey Tapper', email: 'humphrey.tapper@hollowbank.example' },
  ],
} as const
