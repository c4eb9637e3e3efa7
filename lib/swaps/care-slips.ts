/** A piece of advice and what it rests on. */
export interface CareLine {
  readonly text: string
  /** Where it was read; null is common practice, no source. */
  readonly source: string | null
}

export interface CareSlip {
  readonly crop: string
  readonly keep: readonly CareLine[]
  readonly use: readonly CareLine[]
  readonly after: readonly CareLine[]
  readonly caution: readonly CareLine[]
}

const line = (text: string, source: string | null = null): CareLine => ({ text, source })

const gardenClub = 'crfg.org, chapters/golden_gate/scion_tips'
const takes = 'growingfruit.org/t/14973'

const keepCold = [
  line('Keep it sealed, with slightly damp paper, near 0 to 2 °C and not frozen.', gardenClub),
  line('Not beside apples or other ripening fruit, and under the lowest shelf, where it is coldest.'),
  line('Look at it every two to four weeks for mould and drying.'),
]
const cutting = [
  line('Before you cut: nick the bark. Green is good; brown or shrivelled is not.'),
  line('The slanted end is the upper end. Never graft or strike it upside down.'),
]

type Kind = 'pome' | 'stone' | 'late' | 'strike' | 'evergreen' | 'other'

const kindOfProfile: Readonly<Record<string, Kind>> = {
  apple: 'pome',
  pear: 'pome',
  quince: 'pome',
  peach_nectarine: 'stone',
  apricot: 'stone',
  almond: 'stone',
  sweet_cherry: 'stone',
  sour_cherry: 'stone',
  plum_european: 'stone',
  plum_japanese: 'stone',
  persimmon: 'late',
  mulberry: 'late',
  walnut: 'late',
  pecan: 'late',
  chestnut: 'late',
  fig: 'strike',
  grape: 'strike',
  kiwifruit: 'strike',
  pomegranate: 'strike',
  currant_gooseb: 'strike',
  elder: 'strike',
  blueberry: 'strike',
  citrus_budwood: 'evergreen',
  olive: 'evergreen',
  avocado: 'evergreen',
  summer_budwood: 'evergreen',
}

const useOf: Readonly<Record<Kind, readonly CareLine[]>> = {
  pome: [
    line(
      'Graft while it sleeps and the stock is dormant to early leaf; callus forms at about 4 to 18 °C.',
      takes,
    ),
    line('Apple goes on apple and pear on pear stocks; ask before you mix them.'),
  ],
  stone: [
    line('Graft soon: stone fruit keeps badly and its buds swell first.'),
    line('Peach wants settled warmth; callus forms at about 16 to 27 °C.', takes),
    line('Not every plum takes on every stock. Ask before you graft.'),
  ],
  late: [
    line('Graft late, after the stock has leafed and its bark slips.'),
    line(
      'Keep the wood asleep until then, near 1 °C, as is done with pecan.',
      'northernpecans.blogspot.com, 2020/02',
    ),
  ],
  strike: [
    line('Strike it as a cutting: at least three buds, two of them in the ground.'),
    line('Figs root with warmth from below, about 25 °C.', 'figs4funforum, on rooting'),
  ],
  evergreen: [
    line('Use it within days. It does not keep through the winter.'),
    line('Leaf blades off, leaf stalks on.', gardenClub),
  ],
  other: [line('Ask at the table when to graft this, and on what.')],
}

const after = [
  line('Label it today, with variety and stock, and write down where it is.'),
  line('Look after eight weeks whether the tie cuts in; release it by ten, or say why not.'),
  line('Rub off shoots from below the union all summer.'),
  line('Tell the ledger how it went: dead, and never grafted, are useful answers.'),
]

const caution = [
  line(
    'A grafting knife is as sharp as a scalpel. Cut away from you, keep your other thumb out of its way, sit down.',
  ),
  line(
    'Wax and sealants can burn or make you ill: read the tin, melt nothing over a flame, keep air moving.',
  ),
  line('Wipe knife and shears between trees. Wiping does not stop a virus that is in the wood already.'),
  line(
    'No promise of health. Sick leaves or oozing bark: do not share wood; ask your agricultural authority.',
  ),
]

const evergreenKeep = [
  line('Keep it sealed and cool, not near freezing: evergreen wood is hurt by cold that dormant wood wants.'),
]

/** What goes home with wood of a crop. Trade advice; where nothing is named it is common practice, no source. */
export function careSlipFor(crop: string, storageProfile: string | null): CareSlip {
  const kind = kindOfProfile[storageProfile ?? ''] ?? 'other'
  return {
    crop,
    keep: kind === 'evergreen' ? evergreenKeep : keepCold,
    use: [...cutting, ...useOf[kind]],
    after,
    caution,
  }
}
