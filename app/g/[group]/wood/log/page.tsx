import { randomUUID } from 'node:crypto'
import type { Metadata } from 'next'
import { ActionLink } from '#app/_ui/action-link.tsx'
import { Empty } from '#app/_ui/empty.tsx'
import { ActionForm } from '#app/_ui/form/action-form.tsx'
import { DateField } from '#app/_ui/form/date-field.tsx'
import type { FormValues } from '#app/_ui/form/form-state.ts'
import { Hidden } from '#app/_ui/form/hidden.tsx'
import { OnceKey } from '#app/_ui/form/once-key.tsx'
import { PickGroup } from '#app/_ui/form/pick-group.tsx'
import { SelectField } from '#app/_ui/form/select-field.tsx'
import { SubmitButton } from '#app/_ui/form/submit-button.tsx'
import { TextArea } from '#app/_ui/form/text-area.tsx'
import { TextField } from '#app/_ui/form/text-field.tsx'
import { PageHead } from '#app/_ui/page-head.tsx'
import { GroupPage } from '#app/g/[group]/_frame/group-page.tsx'
import { limbOptions, pickOptions, storeOptions, wordOptions } from '#app/g/[group]/wood/_parts/choices.ts'
import { logCuttingSessionAction } from '#app/g/[group]/wood/actions.ts'
import { LotBlocks } from '#app/g/[group]/wood/log/lot-blocks.tsx'
import { type MemberContext, memberContext } from '#lib/access/context.ts'
import { can } from '#lib/access/policy.ts'
import type { CivilDate } from '#lib/kernel/civil-date.ts'
import { memberChoices } from '#lib/people/queries.ts'
import type { MemberChoice } from '#lib/people/view.ts'
import { limbChoices } from '#lib/trees/queries.ts'
import { storeChoices } from '#lib/wood/queries.ts'
import { budStages, diameterBands, lotKinds, packagings, toolCares } from '#lib/wood/words.ts'

export const metadata: Metadata = { title: 'Log a cutting session' }

type Query = Readonly<Record<string, string | string[] | undefined>>

const usualLots = 2
const mostLots = 20

function lotCount(query: Query): number {
  const asked = Number(query['lots'])
  return Number.isInteger(asked) ? Math.min(mostLots, Math.max(1, asked)) : usualLots
}

/** What the form holds at first: what came along in the address, over what is usual. */
function valuesOf(query: Query, { today, actor }: MemberContext): FormValues {
  const usual: FormValues = {
    cutOn: today,
    cutterId: actor.memberId,
    'lots.0.limbId': typeof query['limb'] === 'string' ? query['limb'] : '',
    'lots.0.kind': 'scion_wood',
    'lots.0.diameter': 'pencil',
    'lots.0.packaging': 'sealed_damp',
  }
  const sent = Object.entries(query).filter(
    (entry): entry is [string, string] => typeof entry[1] === 'string' && !entry[0].startsWith('$'),
  )
  return { ...usual, ...Object.fromEntries(sent) }
}

const weathers = [
  { value: 'dry', label: 'Dry' },
  { value: 'wet', label: 'Wet' },
  { value: 'frozen', label: 'Frozen' },
]

export default async function LogCuttingSessionPage(props: PageProps<'/g/[group]/wood/log'>) {
  const { group: slug } = await props.params
  const context = await memberContext(slug)
  const { db, actor } = context
  const query = await props.searchParams
  const [limbs, stores, members] = await Promise.all([
    limbChoices(db, actor),
    storeChoices(db, actor),
    memberChoices(db, actor),
  ])
  const cutters = can(actor, 'act-for-others') ? members : members.filter(({ id }) => id === actor.memberId)
  return (
    <GroupPage context={context} current="wood">
      <PageHead
        title="Log a cutting session"
        crumb={{ href: `/g/${slug}/wood`, label: 'Wood' }}
        meta="One person, one day, one set of shears. Enter the trees in the order you cut them: the order matters if one of them is later found sick."
      />
      {limbs.length === 0 || stores.length === 0 ? (
        <NotYet slug={slug} hasTrees={limbs.length > 0} />
      ) : (
        <ActionForm action={logCuttingSessionAction} values={valuesOf(query, context)} className="form read">
          <Hidden name="group" value={slug} />
          <OnceKey value={randomUUID()} />
          <AboutTheSession today={context.today} cutters={cutters} self={actor.memberId} />
          <LotBlocks
            href={`/g/${slug}/wood/log`}
            count={lotCount(query)}
            most={mostLots}
            limbs={limbOptions(limbs)}
            kinds={wordOptions(lotKinds)}
            diameters={wordOptions(diameterBands)}
            budStages={pickOptions(budStages)}
            packagings={wordOptions(packagings)}
            stores={storeOptions(stores)}
          />
          <TextArea name="note" label="Note on the session" rows={2} maxLength={1000} />
          <p>
            <SubmitButton block glove pending="Saving the session">
              Save and print labels
            </SubmitButton>
          </p>
          <p className="note">
            Empty lots are left out. Nothing is written over later: a wrong count is corrected by another
            entry, with a reason. Take no wood from a tree with ooze, cankers or dieback, and tell the health
            steward.
          </p>
        </ActionForm>
      )}
    </GroupPage>
  )
}

interface AboutTheSessionProps {
  readonly today: CivilDate
  readonly cutters: readonly MemberChoice[]
  readonly self: string
}

function AboutTheSession({ today, cutters, self }: AboutTheSessionProps) {
  return (
    <>
      <DateField
        name="cutOn"
        label="Day cut"
        help="Storage life is counted from this day."
        max={today}
        today={today}
      />
      <SelectField
        name="cutterId"
        label="Cut by"
        options={cutters.map(({ id, name }) => ({
          value: id,
          label: id === self ? `${name} (you)` : name,
        }))}
      />
      <PickGroup name="weather" legend="Wood was" inRow options={weathers} />
      <PickGroup
        name="toolCare"
        legend="Shears wiped between trees?"
        help="“No” and “not sure” are useful answers if a tree is later found sick."
        options={pickOptions(toolCares)}
      />
      <TextField
        name="tool"
        label="Tool"
        help="Whose shears, if you like: “Joss’s red secateurs”."
        maxLength={80}
      />
    </>
  )
}

function NotYet({ slug, hasTrees }: { readonly slug: string; readonly hasTrees: boolean }) {
  return hasTrees ? (
    <Empty
      title="No store yet"
      action={
        <ActionLink href={`/g/${slug}/wood/stores/new`} kind="first">
          Add a store
        </ActionLink>
      }
    >
      Wood is always somewhere: add the fridge or cellar that this wood goes into first.
    </Empty>
  ) : (
    <Empty
      title="No trees yet"
      action={
        <ActionLink href={`/g/${slug}/trees/new`} kind="first">
          Add a tree
        </ActionLink>
      }
    >
      A lot is cut from a limb the group knows, so that the wood can be traced back. Add the tree first.
    </Empty>
  )
}
