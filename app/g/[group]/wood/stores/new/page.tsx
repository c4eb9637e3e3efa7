import { randomUUID } from 'node:crypto'
import type { Metadata } from 'next'
import { ActionForm } from '#app/_ui/form/action-form.tsx'
import { Hidden } from '#app/_ui/form/hidden.tsx'
import { OnceKey } from '#app/_ui/form/once-key.tsx'
import { SubmitButton } from '#app/_ui/form/submit-button.tsx'
import { PageHead } from '#app/_ui/page-head.tsx'
import { GroupPage } from '#app/g/[group]/_frame/group-page.tsx'
import { StoreFields } from '#app/g/[group]/wood/_parts/store-fields.tsx'
import { addStoreAction } from '#app/g/[group]/wood/actions.ts'
import { memberContext } from '#lib/access/context.ts'
import { can } from '#lib/access/policy.ts'
import { memberChoices } from '#lib/people/queries.ts'

export const metadata: Metadata = { title: 'Add a store' }

export default async function NewStorePage(props: PageProps<'/g/[group]/wood/stores/new'>) {
  const { group: slug } = await props.params
  const context = await memberContext(slug)
  const { db, actor } = context
  const keepsAny = can(actor, 'keep-stores')
  const members = await memberChoices(db, actor)
  const unit = context.person.fahrenheit ? 'F' : 'C'
  return (
    <GroupPage context={context} current="wood">
      <PageHead
        title="Add a store"
        crumb={{ href: `/g/${slug}/wood/stores`, label: 'Stores' }}
        meta="A shelf may be a store of its own, if it is told apart."
      />
      <ActionForm
        action={addStoreAction}
        values={{ kind: 'fridge', keeperId: keepsAny ? '' : actor.memberId }}
        className="form read"
      >
        <Hidden name="group" value={slug} />
        <Hidden name="unit" value={unit} />
        <OnceKey value={randomUUID()} />
        <StoreFields
          unit={unit}
          keepers={keepsAny ? members : members.filter(({ id }) => id === actor.memberId)}
          mayLeaveKeeper={keepsAny}
        />
        <p>
          <SubmitButton pending="Adding the store">Add the store</SubmitButton>
        </p>
        <p className="note">
          Near 0 °C, sealed and dark keeps dormant wood longest. Ripening fruit in the same fridge gives off
          ethylene, and a freezer kills.
        </p>
      </ActionForm>
    </GroupPage>
  )
}
