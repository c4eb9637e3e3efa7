import { randomUUID } from 'node:crypto'
import type { Metadata } from 'next'
import { ActionForm } from '#app/_ui/form/action-form.tsx'
import { Hidden } from '#app/_ui/form/hidden.tsx'
import { OnceKey } from '#app/_ui/form/once-key.tsx'
import { SubmitButton } from '#app/_ui/form/submit-button.tsx'
import { PageHead } from '#app/_ui/page-head.tsx'
import { GroupPage } from '#app/g/[group]/_frame/group-page.tsx'
import { NotForYou } from '#app/g/[group]/swaps/_parts/not-for-you.tsx'
import { SwapFields } from '#app/g/[group]/swaps/_parts/swap-fields.tsx'
import { createSwapAction } from '#app/g/[group]/swaps/actions.ts'
import { memberContext } from '#lib/access/context.ts'
import { can } from '#lib/access/policy.ts'

export const metadata: Metadata = { title: 'Plan a swap' }

export default async function NewSwapPage(props: PageProps<'/g/[group]/swaps/new'>) {
  const { group: slug } = await props.params
  const context = await memberContext(slug)
  const mayRun = can(context.actor, 'run-swaps')
  return (
    <GroupPage context={context} current="swaps">
      <PageHead
        title="Plan a swap"
        crumb={{ href: `/g/${slug}/swaps`, label: 'Swaps' }}
        meta={mayRun && 'Nobody can claim before you open it. Everything here can be changed later.'}
      />
      {mayRun ? (
        <div className="read">
          <ActionForm
            action={createSwapAction}
            values={{
              claimsOpenTime: '08:00',
              claimsCloseTime: '18:00',
              capPerMember: '10',
              capPerVariety: '2',
            }}
          >
            <Hidden name="group" value={slug} />
            <OnceKey value={randomUUID()} />
            <SwapFields timeZone={context.group.timeZone} />
            <SubmitButton pending="Saving the swap">Plan this swap</SubmitButton>
          </ActionForm>
        </div>
      ) : (
        <NotForYou right="run-swaps" back={{ href: `/g/${slug}/swaps`, label: 'To the swaps' }} />
      )}
    </GroupPage>
  )
}
