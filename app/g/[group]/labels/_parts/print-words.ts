import { displayCode } from '#app/_ui/code.tsx'
import { dayMonth, labelDay } from '#app/_ui/dates.ts'
import { quoted } from '#app/_ui/name.tsx'
import { cropWord } from '#app/g/[group]/wood/_parts/crop-word.ts'
import { bagLabelOf, type LabelContext } from '#app/g/[group]/wood/_parts/label-of.ts'
import { isShortLived, sayLimit } from '#app/g/[group]/wood/_parts/say-window.ts'
import type { BagToPrint } from '#lib/formats/pdf/bag-label.ts'
import type { FlagToPrint } from '#lib/formats/pdf/stick-flag.ts'
import type { CivilDate } from '#lib/kernel/civil-date.ts'
import type { LotToLabel } from '#lib/swaps/lots-to-label.ts'

interface UseBy {
  /** A sentence. */
  readonly whole: string
  readonly short: string
}

/** Until when wood is likely to be of use, never without the caution that only a look at it tells. */
function sayUseBy({ lot, window }: LotToLabel, today: CivilDate): UseBy {
  const look = 'nick the bark and look for green first'
  if (window.kind !== 'window')
    return { whole: `How long it keeps is not known: ${look}.`, short: 'look before use' }
  if (window.state === 'test' || window.state === 'past')
    return { whole: `Past its likely limit: ${look}.`, short: 'past its limit, look first' }
  if (isShortLived(lot.cutOn, window))
    return { whole: `Keeps for days only, use it at once: ${look}.`, short: 'use at once, look first' }
  const limit = sayLimit(window.likely, window, { cut: lot.cutOn, today }, 'short')
  return {
    whole: `Use by ${limit}, as far as anybody can tell: ${look}.`,
    short: `use by ${limit}, look first`,
  }
}

const asPart = (sentence: string) => {
  const text = sentence.replace(/\.$/, '').replaceAll(';', ',')
  return text.charAt(0).toLowerCase() + text.slice(1)
}

interface PrintContext extends LabelContext {
  /** The address of the group's wood, which the code on a bag leads to. */
  readonly wood: string
}

/** What the printed label of a bag says. */
export function bagToPrint(of: LotToLabel, context: PrintContext): BagToPrint {
  const { lot, sums, window } = of
  const label = bagLabelOf(lot, sums, window, context)
  const useBy = sayUseBy(of, context.today)
  const [identity = '', ...sharing] = label.basis.split('. ')
  return {
    code: displayCode(lot.code),
    name: quoted(lot.varietyName),
    crop: label.crop,
    from: label.from,
    cut: labelDay(lot.cutOn),
    sticks: label.sticks,
    facts: [useBy.whole, label.basis, label.health, label.keep],
    marks: [useBy.short, asPart(identity), asPart(label.health), ...sharing.map(asPart)].filter(Boolean),
    address: `${context.wood}/${lot.code}`,
    hold: label.hold ? `Held ${labelDay(label.hold.on)} by ${label.hold.by}: ${label.hold.reason}` : null,
  }
}

/** What the printed flag on each of its sticks says. */
export const flagToPrint = (of: LotToLabel, today: CivilDate): FlagToPrint => ({
  code: displayCode(of.lot.code),
  name: quoted(of.lot.varietyName),
  crop: cropWord(of.lot.commonName),
  cut: `${dayMonth(of.lot.cutOn)} ${of.lot.cutOn.slice(2, 4)}`,
  useBy: sayUseBy(of, today).short,
  isHeld: of.lot.hold !== null,
})
