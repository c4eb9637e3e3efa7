import type { ReactNode } from 'react'
import { displayCode } from '#app/_ui/code.tsx'
import { VarietyName } from '#app/_ui/name.tsx'
import { PageHead } from '#app/_ui/page-head.tsx'
import { cropWord } from '#app/g/[group]/wood/_parts/crop-word.ts'
import { lotHref } from '#app/g/[group]/wood/_parts/wood-links.ts'
import type { LotRow } from '#lib/wood/lot-rows.ts'

interface LotFormHeadProps {
  readonly slug: string
  readonly lot: LotRow
  readonly title: string
  readonly meta: ReactNode
}

/** The head of a form about one lot: which lot, and the way back to it. */
export function LotFormHead({ slug, lot, title, meta }: LotFormHeadProps) {
  return (
    <PageHead
      title={title}
      crumb={{
        href: lotHref(slug, lot.code),
        label: `Lot ${displayCode(lot.code)}`,
      }}
      meta={
        <>
          <VarietyName name={lot.varietyName} /> {cropWord(lot.commonName)}. {meta}
        </>
      }
    />
  )
}
