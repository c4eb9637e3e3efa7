import { ActionForm } from '#app/_ui/form/action-form.tsx'
import { Hidden } from '#app/_ui/form/hidden.tsx'
import { SubmitButton } from '#app/_ui/form/submit-button.tsx'
import { counted } from '#app/_ui/measures.ts'
import { VarietyName } from '#app/_ui/name.tsx'
import { Tag } from '#app/_ui/tag.tsx'
import { dropWishAction, moveWishAction } from '#app/g/[group]/swaps/[id]/wishes/actions.ts'
import { purposeWords } from '#app/g/[group]/swaps/[id]/wishes/wish-words.ts'
import type { WishRow } from '#lib/wishes/view.ts'

interface WishItemProps {
  readonly slug: string
  readonly wish: WishRow
  /** The rank of the last wish of the list. */
  readonly last: number
  readonly mayChange: boolean
}

const nameOf = ({ variety, words }: WishRow) => variety?.name ?? words ?? 'this wish'

export function WishItem({ slug, wish, last, mayChange }: WishItemProps) {
  const { variety, words, crop, purpose, sticks, stock } = wish
  const kind = variety?.commonName ?? crop
  return (
    <li>
      <p>
        <b>{wish.rank}.</b> {variety ? <VarietyName name={variety.name} /> : words}
        {kind !== null && <span className="soft">, {kind}</span>}
      </p>
      <p className="note">
        {counted(sticks, 'stick')}
        {purpose !== 'undecided' && `. ${purposeWords(purpose)}`}
        {stock !== null && `. On ${stock}`}
      </p>
      {wish.onStock && (
        <p className="note">
          {wish.onStock.warns && <Tag tone="soon">Look first</Tag>} {wish.onStock.words}
          {wish.onStock.basis !== null && ` ${wish.onStock.basis}`}
        </p>
      )}
      {mayChange && (
        <div className="acts">
          {wish.rank > 1 && <Move slug={slug} wish={wish} direction="up" />}
          {wish.rank < last && <Move slug={slug} wish={wish} direction="down" />}
          <ActionForm action={dropWishAction} label={`Remove ${nameOf(wish)}`} className="">
            <Hidden name="group" value={slug} />
            <Hidden name="wishId" value={wish.wishId} />
            <SubmitButton kind="plain" small pending="Removing">
              Remove<span className="vh"> {nameOf(wish)}</span>
            </SubmitButton>
          </ActionForm>
        </div>
      )}
    </li>
  )
}

interface MoveProps {
  readonly slug: string
  readonly wish: WishRow
  readonly direction: 'up' | 'down'
}

function Move({ slug, wish, direction }: MoveProps) {
  return (
    <ActionForm action={moveWishAction} label={`Move ${nameOf(wish)} ${direction}`} className="">
      <Hidden name="group" value={slug} />
      <Hidden name="wishId" value={wish.wishId} />
      <Hidden name="rank" value={String(wish.rank)} />
      <Hidden name="direction" value={direction} />
      <SubmitButton kind="plain" small pending="Moving">
        {direction === 'up' ? 'Up' : 'Down'}
        <span className="vh">: {nameOf(wish)}</span>
      </SubmitButton>
    </ActionForm>
  )
}
