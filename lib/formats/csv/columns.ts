/** A column that an import reads. */
export interface Column {
  readonly key: string
  /** What the heading may say. The first is the one that messages use; capitals, spaces and punctuation do not matter. */
  readonly names: readonly [string, ...string[]]
  readonly isRequired: boolean
  /** What belongs in it. */
  readonly help: string
}

const column = (key: string, names: readonly [string, ...string[]], help: string): Column => ({
  key,
  names,
  isRequired: false,
  help,
})
const needed = (key: string, names: readonly [string, ...string[]], help: string): Column => ({
  ...column(key, names, help),
  isRequired: true,
})

const variety = ['variety', 'cultivar', 'sort', 'variety name'] as const
const crop = column(
  'crop',
  ['crop', 'fruit', 'kind of fruit', 'taxon', 'species'],
  'The kind of fruit: its common or botanical name. Needed where two kinds have a variety of that name.',
)

/** One row is one batch: so many pieces, one method, one day, and the newest look at it. */
const outcomes = [
  needed('variety', variety, 'As in the list of varieties, or another name of it.'),
  crop,
  needed('method', ['method', 'how', 'technique'], 'Such as whip and tongue, cleft, chip bud, root cutting.'),
  column(
    'treatment',
    ['treatment', 'variant'],
    'What set this batch apart, such as “long, planted at once”.',
  ),
  column('stock', ['stock', 'rootstock', 'onto'], 'What it was put on.'),
  column(
    'grower',
    ['grower', 'grafter', 'member', 'made by', 'by'],
    'A name of the members’ list. Empty: whoever the import runs as.',
  ),
  needed('made_on', ['made on', 'made', 'date made', 'grafted on', 'date'], 'The day it was made.'),
  needed('pieces', ['pieces', 'number', 'count', 'grafts', 'cuttings', 'total'], 'How many were made.'),
  column(
    'alive',
    ['alive', 'took', 'rooted', 'living'],
    'How many live. With dead and unknown it comes to pieces.',
  ),
  column(
    'dead',
    ['dead', 'failed', 'died'],
    'How many failed. Empty is 0, if another of the three is filled.',
  ),
  column(
    'unknown',
    ['unknown', 'not known'],
    'Never used, lost from sight, or the label is gone. Empty is 0.',
  ),
  column(
    'checked_on',
    ['checked on', 'checked', 'date checked', 'looked on', 'seen on'],
    'The day of the look. Needed with counts; all four empty: nobody has looked yet.',
  ),
  column('note', ['note', 'notes', 'remark', 'remarks', 'comment'], 'Anything else.'),
]

const members = [
  needed('name', ['name', 'member', 'display name', 'full name'], 'As the group calls the person.'),
  column('role', ['role', 'does'], 'organiser, steward, helper or member. Empty: member.'),
  column('phone', ['phone', 'telephone', 'mobile'], 'Shown only to those who may see contacts.'),
  column(
    'email',
    ['email', 'e-mail', 'e-mail address', 'mail'],
    'Nobody is invited by an import; that is done on the members’ page.',
  ),
  column('note', ['note', 'notes', 'remark', 'remarks'], 'Anything else.'),
]

/** One row is one limb; rows with the same tree are limbs of one tree. */
const trees = [
  column(
    'tree',
    ['tree', 'tree no', 'tree number', 'number', 'label'],
    'Your own mark for the tree, to keep its limbs together. Empty: a tree of one limb. Its code is given by Tallywood.',
  ),
  needed(
    'keeper',
    ['keeper', 'owner', 'member', 'grower'],
    'Who looks after it: a name of the members’ list.',
  ),
  column('rootstock', ['rootstock', 'stock'], 'What it stands on.'),
  column('place', ['place', 'where', 'location', 'site'], 'Where it stands.'),
  column('planted_on', ['planted on', 'planted', 'date planted'], 'The day it was planted.'),
  column(
    'limb',
    ['limb', 'mark', 'branch'],
    'A letter from the ground up. Empty: A, B, C in the order of the rows.',
  ),
  column('variety', variety, 'Empty: nobody knows.'),
  crop,
  column(
    'height_cm',
    ['height cm', 'height', 'height in cm'],
    'Where the limb leaves the trunk, in centimetres.',
  ),
  column('side', ['side', 'direction'], 'Such as south, or towards the house.'),
  column(
    'origin',
    ['origin', 'own or grafted'],
    'own, grafted or unknown. Empty: own for a tree of one limb, else unknown.',
  ),
  column(
    'identity',
    ['identity', 'name known by', 'basis'],
    'dna, expert, fruited true, nursery tag, donor word or unknown.',
  ),
  column('note', ['note', 'notes', 'remark', 'remarks'], 'About the tree.'),
]

/** One row is one lot; rows of one person, day and tool are one cutting session. */
const lots = [
  needed('tree', ['tree', 'tree code', 'code'], 'The code of the tree, such as ABC-DEF.'),
  column('limb', ['limb', 'mark', 'branch'], 'Its letter. Needed where the tree has more than one.'),
  needed('cutter', ['cutter', 'cut by', 'member', 'by'], 'Who cut it: a name of the members’ list.'),
  needed('cut_on', ['cut on', 'cut', 'date cut', 'date'], 'The day it was cut.'),
  needed('sticks', ['sticks', 'number', 'count', 'number of sticks'], 'How many were cut.'),
  needed('store', ['store', 'kept in', 'place', 'fridge'], 'The name of one of the group’s stores.'),
  column(
    'kind',
    ['kind', 'kind of wood'],
    'scion wood, budwood, hardwood cuttings or rooted plants. Empty: scion wood.',
  ),
  column('diameter', ['diameter', 'thickness'], 'thin, pencil, thick or mixed. Empty: mixed.'),
  column(
    'packaging',
    ['packaging', 'packed in', 'packing'],
    'bare, paper, open bag, sealed bag, sealed damp or waxed sealed. Empty: sealed damp.',
  ),
  column('bud_stage', ['bud stage', 'bbch'], 'BBCH stage, 0 to 99. Empty: 0, tight.'),
  column('tool', ['tool', 'shears'], 'What it was cut with.'),
  column(
    'tool_care',
    ['tool care', 'tool wiped', 'wiped'],
    'wiped between trees, wiped once, not wiped or not noted. Empty: not noted.',
  ),
  column('note', ['note', 'notes', 'remark', 'remarks'], 'About the lot.'),
]

/** What can be imported, and the columns of each. Columns under other headings are left unread and named. */
export const importColumns = { outcomes, members, trees, lots } as const satisfies Record<
  string,
  readonly Column[]
>

export type ImportKind = keyof typeof importColumns

export const importKinds = Object.keys(importColumns) as readonly ImportKind[]
