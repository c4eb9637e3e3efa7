import { formatCode } from '#lib/grafting/codes.ts'
import { formatEpithet } from '#lib/grafting/cultivar-name.ts'

/** What is needed of a batch to name it. */
export interface NamedBatch {
  readonly pieces: number
  readonly varietyName: string
  readonly stock: string | null
  readonly hostTreeCode: string | null
}

/** "4 × ‘Ashmead’s Kernel’ on MM106", in plain text. */
export function batchName({ pieces, varietyName, stock, hostTreeCode }: NamedBatch): string {
  const onto = stock ?? (hostTreeCode === null ? null : `tree ${formatCode(hostTreeCode)}`)
  return `${pieces} × ${formatEpithet(varietyName)}${onto === null ? '' : ` on ${onto}`}`
}
