import { displayCode } from '#app/_ui/code.tsx'
import { counted } from '#app/_ui/measures.ts'
import { quoted } from '#app/_ui/name.tsx'
import type {
  CareSlipSheet,
  PickRow,
  PickSheet,
  SwapPapers,
  TableCard,
} from '#lib/formats/pdf/swap-papers.ts'
import type { CareLine, CareSlip } from '#lib/swaps/care-slips.ts'
import type { DayPapers } from '#lib/swaps/day-papers.ts'
import type { ClaimView } from '#lib/swaps/view.ts'

/** The papers that can be printed one by one; `all` is every one of them in one file. */
const paperParts = ['all', 'sign-in', 'cards', 'people', 'tables', 'care'] as const
export type PaperPart = (typeof paperParts)[number]

export const paperPartOf = (text: string | null): PaperPart =>
  paperParts.find((part) => part === text) ?? 'all'

function grouped<T>(items: readonly T[], keyOf: (item: T) => string): Map<string, T[]> {
  const groups = new Map<string, T[]>()
  for (const item of items) groups.set(keyOf(item), [...(groups.get(keyOf(item)) ?? []), item])
  return groups
}

const sticksOf = (claims: readonly ClaimView[]) => claims.reduce((sum, { sticks }) => sum + sticks, 0)

const pickRow = (claim: ClaimView, first: string, isName: boolean): PickRow => ({
  first,
  isName,
  code: displayCode(claim.code),
  place: claim.note ?? '',
  sticks: claim.sticks,
  isDone: claim.status === 'handed_over',
  isHeld: claim.isHeld,
})

function sheetsByPerson(claims: readonly ClaimView[]): PickSheet[] {
  return [...grouped(claims, ({ memberId }) => memberId).values()].map((own) => ({
    title: own[0]?.memberName ?? '',
    isName: false,
    sub: `${counted(own.length, 'lot')}, ${counted(sticksOf(own), 'stick')}`,
    rows: own.map((claim) => pickRow(claim, quoted(claim.varietyName), true)),
    lines: ['Taken besides: lot code and sticks', 'Signature'],
  }))
}

function sheetsByTable(claims: readonly ClaimView[]): PickSheet[] {
  const inOrder = claims.toSorted(
    (a, b) =>
      (a.commonName ?? '~').localeCompare(b.commonName ?? '~', 'en') ||
      (a.note ?? '~').localeCompare(b.note ?? '~', 'en', { numeric: true }) ||
      (a.varietyName ?? '~').localeCompare(b.varietyName ?? '~', 'en'),
  )
  return [...grouped(inOrder, ({ offeringId }) => offeringId).values()].flatMap((of) => {
    const [first] = of
    if (!first) return []
    return {
      title: `${quoted(first.varietyName)}  ${displayCode(first.code)}`,
      isName: true,
      sub: [
        first.commonName ?? 'Not named',
        first.note,
        `${counted(sticksOf(of), 'stick')} for ${of.length === 1 ? '1 person' : `${of.length} people`}`,
      ]
        .filter(Boolean)
        .join(' · '),
      rows: of.map((claim) => pickRow(claim, claim.memberName, false)),
      lines: ['Taken without a claim: sticks'],
    }
  })
}

function tableCards({ offered }: DayPapers): TableCard[] {
  return [...grouped(offered, ({ commonName }) => commonName ?? 'Not named')].map(([crop, lots]) => ({
    crop,
    lots: lots.map((lot) => ({
      name: quoted(lot.varietyName),
      code: displayCode(lot.code),
      place: lot.note ?? '',
      share: lot.isHeld ? 'ON HOLD' : `${counted(lot.sticksPerShare, 'stick')} each`,
    })),
  }))
}

const sentence = ({ text, source }: CareLine) => (source === null ? text : `${text} (${source})`)

const careSlip = (slip: CareSlip): CareSlipSheet => ({
  crop: slip.crop,
  parts: [
    { title: 'Until you use it', lines: slip.keep.map(sentence) },
    { title: 'Afterwards', lines: slip.after.map(sentence) },
    { title: 'Using it', lines: slip.use.map(sentence) },
    {
      title: 'Take care',
      lines: [...slip.caution.map(sentence), 'Where no source is named: common practice, no source.'],
    },
  ],
})

/** The papers of a swap in words, those asked for. */
export function swapPapers(papers: DayPapers, part: PaperPart, paper: SwapPapers['paper']): SwapPapers {
  const wants = (one: PaperPart) => part === 'all' || part === one
  return {
    swap: papers.swap.name,
    paper,
    signIn: wants('sign-in') ? { names: papers.people.map(({ name }) => name), blanks: 12 } : null,
    tableCards: wants('cards') ? tableCards(papers) : [],
    byPerson: wants('people') ? sheetsByPerson(papers.claims) : [],
    byTable: wants('tables') ? sheetsByTable(papers.claims) : [],
    careSlips: wants('care') ? papers.slips.map(careSlip) : [],
  }
}
