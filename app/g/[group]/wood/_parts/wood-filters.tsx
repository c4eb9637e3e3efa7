import { seasonName } from '#app/_ui/dates.ts'
import { Filters } from '#app/_ui/filters.tsx'
import { Hidden } from '#app/_ui/form/hidden.tsx'
import { SelectField } from '#app/_ui/form/select-field.tsx'
import { type WoodAddress, woodHref } from '#app/g/[group]/wood/_parts/wood-links.ts'
import type { WoodList, WoodSort, WoodState } from '#lib/wood/view.ts'

interface WoodFiltersProps {
  readonly slug: string
  readonly list: WoodList
  readonly address: WoodAddress
}

const states: readonly (readonly [WoodState, string])[] = [
  ['kept', 'In store'],
  ['free', 'Free sticks'],
  ['urgent', 'Use soon or test'],
  ['held', 'On hold'],
  ['gone', 'None left'],
  ['all', 'All'],
]

const sorts: readonly { readonly value: WoodSort; readonly label: string }[] = [
  { value: 'first', label: 'What must be used first' },
  { value: 'latest', label: 'Latest cut' },
  { value: 'name', label: 'Name' },
]

function stateCount(list: WoodList, state: WoodState): { count?: number } {
  const { counts } = list
  const known: Partial<Record<WoodState, number>> = {
    kept: counts.kept,
    free: counts.free,
    held: counts.held,
    gone: counts.gone,
    all: counts.lots,
  }
  const count = known[state]
  return count === undefined ? {} : { count }
}

/** On hold and none left are there only where there are such lots. */
const isWorthShowing = (list: WoodList, state: WoodState): boolean =>
  list.state === state || (state !== 'held' && state !== 'gone') || list.counts[state] > 0

/** Narrows the list: by state and crop with links, by crop, store, order and season with a form. */
export function WoodFilters({ slug, list, address }: WoodFiltersProps) {
  const { crop, store } = address
  const isWhole = crop === undefined && store === undefined
  const to = (change: WoodAddress) => woodHref(slug, { ...address, page: undefined, ...change })
  return (
    <div>
      <Filters
        label="State"
        items={states
          .filter(([state]) => isWorthShowing(list, state))
          .map(([state, label]) => ({
            href: to({ state }),
            label,
            current: list.state === state,
            // Counts are of the whole season, so they say nothing beside a crop or a store.
            ...(isWhole ? stateCount(list, state) : {}),
          }))}
      />
      {list.byCrop.length > 1 && (
        <div className="wide-only">
          <Filters
            label="Crop"
            items={[
              { href: to({ crop: undefined }), label: 'Every crop', current: crop === undefined },
              ...list.byCrop.map(({ key, label, lots }) => ({
                href: to({ crop: key ?? 'unnamed' }),
                label,
                count: lots,
                current: crop === (key ?? 'unnamed'),
              })),
            ]}
          />
        </div>
      )}
      <NarrowForm slug={slug} list={list} address={address} />
    </div>
  )
}

function NarrowForm({ slug, list, address: { state, crop, store } }: WoodFiltersProps) {
  return (
    <details open={store !== undefined || list.sort !== 'first'}>
      <summary>Crop, store, order and season</summary>
      <form method="get" action={`/g/${slug}/wood`} className="form read">
        {state && <Hidden name="state" value={state} />}
        <SelectField
          name="crop"
          label="Crop"
          empty="Every crop"
          defaultValue={crop}
          options={list.byCrop.map(({ key, label, lots }) => ({
            value: key ?? 'unnamed',
            label: `${label} (${lots})`,
          }))}
        />
        <SelectField
          name="store"
          label="Store"
          empty="Every store"
          defaultValue={store}
          options={list.byStore.map(({ id, label, lots }) => ({ value: id, label: `${label} (${lots})` }))}
        />
        <SelectField name="sort" label="Order" defaultValue={list.sort} options={sorts} />
        <SelectField
          name="season"
          label="Season"
          defaultValue={String(list.season)}
          options={list.seasons.map((season) => ({ value: String(season), label: seasonName(season) }))}
        />
        <p>
          <button type="submit" className="btn second">
            Show
          </button>
        </p>
      </form>
    </details>
  )
}
