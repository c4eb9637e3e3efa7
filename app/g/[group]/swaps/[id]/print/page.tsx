import type { Metadata } from 'next'
import { notFound } from 'next/navigation'
import { ActionLink } from '#app/_ui/action-link.tsx'
import { SelectField } from '#app/_ui/form/select-field.tsx'
import { counted } from '#app/_ui/measures.ts'
import { PageHead } from '#app/_ui/page-head.tsx'
import { Rows } from '#app/_ui/rows.tsx'
import { Section } from '#app/_ui/section.tsx'
import { GroupPage } from '#app/g/[group]/_frame/group-page.tsx'
import { PdfForm } from '#app/g/[group]/labels/_parts/pdf-form.tsx'
import { NotForYou } from '#app/g/[group]/swaps/_parts/not-for-you.tsx'
import type { PaperPart } from '#app/g/[group]/swaps/_parts/paper-words.ts'
import { swapHref } from '#app/g/[group]/swaps/_parts/swap-links.ts'
import { whenAndWhere } from '#app/g/[group]/swaps/_parts/swap-words.ts'
import { memberContext } from '#lib/access/context.ts'
import { can } from '#lib/access/policy.ts'
import { type DayPapers, dayPapers } from '#lib/swaps/day-papers.ts'

export const metadata: Metadata = { title: 'Papers of the day' }

export default async function SwapPrintPage(props: PageProps<'/g/[group]/swaps/[id]/print'>) {
  const { group: slug, id } = await props.params
  const context = await memberContext(slug)
  if (!can(context.actor, 'hand-over')) {
    return (
      <GroupPage context={context} current="swaps">
        <PageHead title="Papers of the day" />
        <NotForYou
          right="hand-over"
          back={{ href: swapHref(slug, id, 'yours'), label: 'To your own list' }}
        />
      </GroupPage>
    )
  }
  const papers = await dayPapers(context.db, context.actor, id)
  if (!papers) notFound()
  const { swap, offered } = papers
  const here = swapHref(slug, swap.id, 'print')
  const isLetter = (await props.searchParams)['paper'] === 'letter'
  const file = (part: PaperPart) => `${here}/pdf?part=${part}${isLetter ? '&paper=letter' : ''}`
  const sticks = offered.reduce((sum, lot) => sum + lot.sticksInStore + lot.sticksPromised, 0)
  return (
    <GroupPage context={context} current="swaps">
      <PageHead
        title="Papers of the day"
        crumb={{ href: swapHref(slug, swap.id), label: swap.name }}
        meta={`${whenAndWhere(swap, { timeZone: context.group.timeZone, today: context.today })}. The day can be run on these alone: tick with a pen, and type it in tonight.`}
      />
      <form method="get" action={here} className="flex flex-wrap items-end gap-3">
        <SelectField
          name="paper"
          label="Paper"
          width="mid"
          defaultValue={isLetter ? 'letter' : 'a4'}
          options={[
            { value: 'a4', label: 'A4' },
            { value: 'letter', label: 'US Letter' },
          ]}
        />
        <button type="submit" className="btn second min-h-12">
          Set
        </button>
      </form>
      <Section
        id="papers"
        title="Lists, cards and slips"
        aside={<ActionLink href={file('all')}>Everything in one PDF</ActionLink>}
      >
        <Papers papers={papers} file={file} list={swapHref(slug, swap.id, 'list')} />
      </Section>
      {sticks > 0 && (
        <PdfForm slug={slug} of={{ name: 'swap', value: swap.id }} bags={offered.length} flags={sticks} />
      )}
    </GroupPage>
  )
}

interface PapersProps {
  readonly papers: DayPapers
  readonly file: (part: PaperPart) => string
  readonly list: string
}

function Papers({ papers, file, list }: PapersProps) {
  const { claims, offered, people, slips } = papers
  const claimants = new Set(claims.map(({ memberId }) => memberId)).size
  const crops = new Set(offered.map(({ commonName }) => commonName)).size
  const rows = [
    {
      part: 'sign-in',
      title: 'Sign-in sheet',
      count: people.length,
      note: `${counted(people.length, 'name')}, and lines for people who are new`,
    },
    {
      part: 'cards',
      title: 'Table cards',
      count: crops,
      note: `One for each crop, with the lots that lie there: ${counted(crops, 'card')}`,
    },
    {
      part: 'people',
      title: 'List by person',
      count: claimants,
      note: `What ${claimants === 1 ? '1 person' : `${claimants} people`} claimed, boxes to tick, lines to write on, a signature`,
    },
    {
      part: 'tables',
      title: 'List by table',
      count: claims.length,
      note: `Lot by lot, as the tables stand: ${counted(claims.length, 'claim')}`,
    },
    {
      part: 'care',
      title: 'Care slips',
      count: slips.length,
      note: `Two to the sheet, one sheet for each crop: ${counted(slips.length, 'sheet')}`,
    },
  ] as const
  return (
    <>
      <Rows>
        {rows.map(({ part, title, count, note }) => (
          <li key={part} className="flex flex-wrap items-center justify-between gap-x-6 gap-y-2">
            <div>
              <p>
                <b>{title}</b>
              </p>
              <p className="note">{note}</p>
            </div>
            {count > 0 ? (
              <ActionLink href={file(part)} small>
                PDF<span className="vh">: {title}</span>
              </ActionLink>
            ) : (
              <p className="note">Nothing to print yet</p>
            )}
          </li>
        ))}
      </Rows>
      <p>
        <ActionLink href={list} kind="plain">
          The lists as a page
        </ActionLink>
      </p>
    </>
  )
}
