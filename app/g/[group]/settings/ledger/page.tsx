import type { Metadata } from 'next'
import Link from 'next/link'
import { counted } from '#app/_ui/measures.ts'
import { Notice } from '#app/_ui/notice.tsx'
import { PageHead } from '#app/_ui/page-head.tsx'
import { Refusal } from '#app/_ui/refusal.tsx'
import { Rows } from '#app/_ui/rows.tsx'
import { Section } from '#app/_ui/section.tsx'
import { memberContext } from '#lib/access/context.ts'
import { notAllowed } from '#lib/access/policy.ts'
import { ledgerRefusalWords } from '#lib/ledger/refusal-words.ts'
import { checkOwnLedger, type GroupReport, type NamedFault } from '#lib/ledger/verify-report.ts'
import { GroupPage } from '../../_frame/group-page.tsx'

export const metadata: Metadata = { title: 'Does the ledger add up?' }

export default async function LedgerCheckPage(props: PageProps<'/g/[group]/settings/ledger'>) {
  const { group: slug } = await props.params
  const context = await memberContext(slug)
  const report = await checkOwnLedger(context.db, context.actor)
  return (
    <GroupPage context={context} current="settings">
      <PageHead
        title="Does the ledger add up?"
        crumb={{ href: `/g/${slug}/settings`, label: 'Settings' }}
        meta="Counted again from every move, each time this page is opened. Nothing is changed."
      />
      {report ? (
        <Findings slug={slug} report={report} />
      ) : (
        <Refusal {...ledgerRefusalWords(notAllowed('change-settings'))} />
      )}
    </GroupPage>
  )
}

interface FindingsProps {
  readonly slug: string
  readonly report: GroupReport
}

function Findings({ slug, report: { counts, faults } }: FindingsProps) {
  const looked = `${counted(counts.lots, 'lot')}, ${counted(counts.moves, 'move')} and ${counted(counts.claims, 'claim')}`
  return (
    <>
      {faults.length === 0 ? (
        <Notice>Everything adds up: {looked}.</Notice>
      ) : (
        <Faults slug={slug} looked={looked} faults={faults} />
      )}
      <Section title="What is looked at" id="looked-at">
        <ul className="read">
          <li>
            Each account of a lot holds what its moves add up to, and every entry says the right balance.
          </li>
          <li>The sticks of a lot, wherever they are, add up to what was cut.</li>
          <li>What is set aside is what is promised, and no lot is promised over.</li>
          <li>
            Every claim has its moves, its place in a swap and its person, and counts towards the limits.
          </li>
          <li>Every graft used the sticks it says, and no wood comes from itself.</li>
        </ul>
      </Section>
    </>
  )
}

interface FaultsProps {
  readonly slug: string
  readonly looked: string
  readonly faults: readonly NamedFault[]
}

function Faults({ slug, looked, faults }: FaultsProps) {
  return (
    <>
      <Notice tone="stop">
        {counted(faults.length, 'thing')} cannot be true. Looked at: {looked}.
      </Notice>
      <Section title="What is wrong" id="wrong">
        <Rows>
          {faults.map((fault) => (
            <li key={`${fault.about} ${fault.sentence}`}>
              <b>
                {fault.lotCode ? (
                  <Link href={`/g/${slug}/wood/${fault.lotCode}`} prefetch={false}>
                    {capital(fault.about)}
                  </Link>
                ) : (
                  capital(fault.about)
                )}
              </b>
              : {fault.sentence}.
            </li>
          ))}
        </Rows>
        <p className="read">
          The program itself cannot write such entries: somebody or something changed the database past it.
          Give nothing out from these lots, keep the last backup, and show this page to whoever runs the
          server.
        </p>
      </Section>
    </>
  )
}

const capital = (text: string) => text.charAt(0).toUpperCase() + text.slice(1)
