import { randomUUID } from 'node:crypto'
import type { Metadata } from 'next'
import { notFound } from 'next/navigation'
import { ActionLink } from '#app/_ui/action-link.tsx'
import { displayCode, LotCode } from '#app/_ui/code.tsx'
import { clockTime } from '#app/_ui/dates.ts'
import { Empty } from '#app/_ui/empty.tsx'
import { ActionForm } from '#app/_ui/form/action-form.tsx'
import { Hidden } from '#app/_ui/form/hidden.tsx'
import { NumberField } from '#app/_ui/form/number-field.tsx'
import { OnceKey } from '#app/_ui/form/once-key.tsx'
import { SubmitButton } from '#app/_ui/form/submit-button.tsx'
import { TextField } from '#app/_ui/form/text-field.tsx'
import { counted } from '#app/_ui/measures.ts'
import { quoted, VarietyName } from '#app/_ui/name.tsx'
import { Notice } from '#app/_ui/notice.tsx'
import { PageHead } from '#app/_ui/page-head.tsx'
import { Section } from '#app/_ui/section.tsx'
import { StateWord } from '#app/_ui/state-word.tsx'
import { GroupPage } from '#app/g/[group]/_frame/group-page.tsx'
import { NotForYou } from '#app/g/[group]/swaps/_parts/not-for-you.tsx'
import { oneText, swapHref } from '#app/g/[group]/swaps/_parts/swap-links.ts'
import { recordWalkUpAction, undoWalkUpAction } from '#app/g/[group]/swaps/actions.ts'
import { memberContext } from '#lib/access/context.ts'
import { can } from '#lib/access/policy.ts'
import { walkUpsOf } from '#lib/swaps/door-lists.ts'
import { getCatalogue } from '#lib/swaps/queries.ts'
import type { CatalogueRow, WalkUpView } from '#lib/swaps/view.ts'

export const metadata: Metadata = { title: 'Sticks taken without a claim' }

const doneWords: Readonly<Record<string, string>> = {
  recorded: 'Recorded, without a name.',
  undone: 'Undone. The sticks are in their store again.',
}

/** So many lots are shown without a search; more would hide the one in the hand. */
const fewLots = 12

export default async function WalkUpPage(props: PageProps<'/g/[group]/swaps/[id]/hand-over/walk-up'>) {
  const { group: slug, id } = await props.params
  const query = await props.searchParams
  const context = await memberContext(slug)
  const { db, actor } = context
  const search = oneText(query['search'])
  const back = { href: swapHref(slug, id, 'hand-over'), label: 'Swap day' }
  const [catalogue, walkUps] = await Promise.all([
    getCatalogue(db, actor, id, { search }),
    walkUpsOf(db, actor, id),
  ])
  if (!catalogue) notFound()
  if (!can(actor, 'hand-over') || walkUps === null) {
    return (
      <GroupPage context={context} current="swaps">
        <PageHead title="Sticks taken without a claim" />
        <NotForYou right="hand-over" back={{ href: swapHref(slug, id), label: catalogue.swap.name }} />
      </GroupPage>
    )
  }
  const isShown = search !== undefined || catalogue.rows.length <= fewLots
  const rows = isShown ? catalogue.rows.filter((row) => row.sticksInStore > 0) : []
  const notice = doneWords[oneText(query['done']) ?? '']
  const here = swapHref(slug, id, 'hand-over/walk-up')
  return (
    <GroupPage context={context} current="swaps" bare>
      <PageHead
        title="Sticks taken without a claim"
        crumb={back}
        meta="They are counted without a name, so tracing the lot later stops there. Sticks that are promised to somebody are not among these."
      />
      {notice && <Notice>{notice}</Notice>}
      <form method="get" action={here} className="flex flex-wrap items-end gap-3">
        <TextField name="search" type="search" label="Lot code or variety" defaultValue={search} />
        <button type="submit" className="btn second min-h-12">
          Find
        </button>
        {search !== undefined && <ActionLink href={here}>Another</ActionLink>}
      </form>
      {!isShown && (
        <p>
          Type the code on the bag, or a part of the name. {counted(catalogue.found, 'lot')} are on the
          tables.
        </p>
      )}
      {rows.length > 0 ? (
        <ul className="hand border-t-2 border-ink">
          {rows.map((row) => (
            <TakeRow key={row.offeringId} slug={slug} swapId={id} row={row} />
          ))}
        </ul>
      ) : (
        isShown && (
          <Empty title="No free sticks by that">
            Nothing on the table has that name or code and sticks that are promised to nobody.
          </Empty>
        )
      )}
      {walkUps.length > 0 && (
        <Section id="taken" title="Taken so far">
          <ul className="rows">
            {walkUps.map((taken) => (
              <TakenRow
                key={taken.moveId}
                slug={slug}
                swapId={id}
                taken={taken}
                timeZone={context.group.timeZone}
              />
            ))}
          </ul>
        </Section>
      )}
    </GroupPage>
  )
}

interface InSwap {
  readonly slug: string
  readonly swapId: string
}

function TakeRow({ slug, swapId, row }: InSwap & { readonly row: CatalogueRow }) {
  const name = quoted(row.varietyName)
  return (
    <li className="stack">
      <div className="two">
        <div>
          <p>
            <VarietyName name={row.varietyName} />
          </p>
          <p>
            <LotCode code={row.code} />
          </p>
          {row.note !== null && <p className="soft">{row.note}</p>}
        </div>
        <p className="soft">{counted(row.sticksInStore, 'stick')} there</p>
      </div>
      {row.isHeld ? (
        <p>
          <StateWord kind="hold">On hold: do not give it away. Ask the health steward.</StateWord>
        </p>
      ) : (
        <ActionForm
          action={recordWalkUpAction}
          label={`Taken of ${name}, lot ${displayCode(row.code)}`}
          values={{ sticks: '1' }}
        >
          <Hidden name="group" value={slug} />
          <Hidden name="swap" value={swapId} />
          <Hidden name="offeringId" value={row.offeringId} />
          <OnceKey value={randomUUID()} />
          <NumberField name="sticks" label="Sticks taken" min={1} max={row.sticksInStore} inLine />
          <SubmitButton kind="second" block glove pending="Saving">
            Record it<span className="vh"> for {name}</span>
          </SubmitButton>
        </ActionForm>
      )}
    </li>
  )
}

interface TakenRowProps extends InSwap {
  readonly taken: WalkUpView
  readonly timeZone: string
}

function TakenRow({ slug, swapId, taken, timeZone }: TakenRowProps) {
  return (
    <li className="flex flex-wrap items-center justify-between gap-x-6 gap-y-2">
      <p>
        <b>{counted(taken.sticks, 'stick')}</b> of <VarietyName name={taken.varietyName} />{' '}
        <LotCode code={taken.code} />, {clockTime(taken.at, timeZone)}
        {taken.isUndone && ' (undone)'}
      </p>
      {!taken.isUndone && (
        <ActionForm
          action={undoWalkUpAction}
          className=""
          label={`Undo ${counted(taken.sticks, 'stick')} of lot ${displayCode(taken.code)}, ${clockTime(taken.at, timeZone)}`}
        >
          <Hidden name="group" value={slug} />
          <Hidden name="swap" value={swapId} />
          <Hidden name="moveId" value={taken.moveId} />
          <Hidden name="reason" value="undone at the table" />
          <OnceKey value={randomUUID()} />
          <SubmitButton kind="second" small pending="Undoing">
            Undo
          </SubmitButton>
        </ActionForm>
      )}
    </li>
  )
}
