import { randomUUID } from 'node:crypto'
import { ActionLink } from '#app/_ui/action-link.tsx'
import { AgeCurve } from '#app/_ui/age-curve.tsx'
import { sharedAxis } from '#app/_ui/chart-scale.ts'
import { ClockBars } from '#app/_ui/clock-bars.tsx'
import { LotCode } from '#app/_ui/code.tsx'
import { DifferenceAxis, DifferenceBar } from '#app/_ui/difference.tsx'
import { Empty } from '#app/_ui/empty.tsx'
import { Facts } from '#app/_ui/facts.tsx'
import { Filters } from '#app/_ui/filters.tsx'
import { ActionForm } from '#app/_ui/form/action-form.tsx'
import { OnceKey } from '#app/_ui/form/once-key.tsx'
import { Frame } from '#app/_ui/frame.tsx'
import { BagPreview } from '#app/_ui/labels/bag-label.tsx'
import { Ladder } from '#app/_ui/ladder.tsx'
import { MiniAxis, MiniWindow } from '#app/_ui/mini-window.tsx'
import { LatinName, SellingName, VarietyName } from '#app/_ui/name.tsx'
import { Notice } from '#app/_ui/notice.tsx'
import { PageHead } from '#app/_ui/page-head.tsx'
import { RateAxis, RateDot, RateKey, rateWords } from '#app/_ui/rate-dot.tsx'
import { RecordedDay } from '#app/_ui/recorded-day.tsx'
import { Refusal } from '#app/_ui/refusal.tsx'
import { StorageSwatch, ViabilityRibbon } from '#app/_ui/ribbon.tsx'
import { NeedsRow, NeedsRows } from '#app/_ui/rows.tsx'
import { SeasonStrip } from '#app/_ui/season-strip.tsx'
import { Columns, Section } from '#app/_ui/section.tsx'
import { KeepingState, StateWord } from '#app/_ui/state-word.tsx'
import { SumTable } from '#app/_ui/sum-table.tsx'
import { Tag } from '#app/_ui/tag.tsx'
import { StickTally, TallyKey } from '#app/_ui/tally.tsx'
import { TreeSchematic } from '#app/_ui/tree-schematic.tsx'
import { civilDate as c } from '#lib/kernel/civil-date.ts'
import { kitAction } from './actions.ts'
import { Fields } from './fields.tsx'
import { Hook } from './hook.tsx'

const today = c('2027-02-04'), swap = c('2027-02-21')
const w1 = { early: c('2027-03-15'), likely: c('2027-06-08'), late: c('2027-09-15'), limitedBy: 'reserve' as const }
const w2 = { early: c('2026-12-28'), likely: c('2027-02-14'), late: c('2027-06-18'), limitedBy: 'bud-break' as const }
const short = { early: c('2027-02-03'), likely: c('2027-02-06'), late: c('2027-02-09'), limitedBy: 'water' as const }
const tiny = { early: c('2027-02-03'), likely: c('2027-02-04'), late: c('2027-02-05'), limitedBy: 'water' as const }
const long = { early: c('2027-08-03'), likely: c('2028-02-04'), late: c('2028-09-05'), limitedBy: 'reserve' as const }
const past = { early: c('2026-11-20'), likely: c('2026-12-05'), late: c('2027-01-05'), limitedBy: 'bud-break' as const }
const rows = [{ cut: c('2026-12-08'), w: w2 }, { cut: c('2027-01-11'), w: w1 }, { cut: c('2027-02-01'), w: short }, { cut: c('2026-11-01'), w: past }]
const axis = sharedAxis(rows.map((r) => ({ cut: r.cut, late: r.w.late })), today, swap)
const rates = [{ took: 2, known: 2, unknown: 0, pooled: null }, { took: 6, known: 9, unknown: 2, pooled: { estimate: .706, low: .533, high: .853 } }, { took: 31, known: 36, unknown: 3, pooled: { estimate: .81, low: .7, high: .9 } }, { took: 12, known: 20, unknown: 8, pooled: null, interval: { low: .39, high: .78 } }]
export default async function Kit(props: { searchParams: Promise<Record<string, string>> }) {
  const q = await props.searchParams
  return <Frame group={{ slug: 'marrow-lane', name: 'Marrow Lane Orchard Circle', season: '2026–27' }} current={q['at'] === 'trees' ? 'trees' : 'home'} counts={{ wood: 18, swaps: '21 Feb', grafts: '3 due', trees: 47, health: 1, people: 38 }} person={{ name: 'Nell Fairweather', role: 'organiser' }} foot={<a href="/">Sign out</a>}>
    <PageHead title="Parts and states" crumb={{ href: '/', label: 'Wood' }} meta={<>Apple, <LatinName>Malus domestica</LatinName>. Lot <LotCode code="4TK7WA" />, cut <RecordedDay date={c('2027-01-11')} today={today} /> sold as <SellingName>Pink Lady</SellingName></>} lead={<><StateWord kind="good" /> until about mid March; likely to keep to early June.</>} acts={<><ActionLink href="/" kind="first">Log a cutting session</ActionLink><ActionLink href="/">Print labels</ActionLink></>} />
    {q['moved'] && <Notice>Moved here after a redirect.</Notice>}
    <Filters label="Show" items={[{ href: '/kit', label: 'All', count: 18, current: true }, { href: '/kit?a', label: 'Apple', count: 5 }]} />
    <Section id="needs" title="Needs you" aside={<a className="tap" href="/">All 18 lots</a>}><NeedsRows><NeedsRow when="Since Tue 2 Feb" late action={<ActionLink href="/" small kind="first">Record the check</ActionLink>}><p><b>Look over the group fridge.</b> Nine lots are due.</p></NeedsRow><NeedsRow when="Today" action={<ActionLink href="/" small>Offer it now</ActionLink>}><p><VarietyName name="D'Arcy Spice" /> <LotCode code="K9B-D6Y" href="/" /> is near its likely limit.</p></NeedsRow></NeedsRows></Section>
    <Section id="season" title="Where we are in the season"><SeasonStrip from={c('2026-09-01')} to={c('2027-09-01')} today={today} swap={swap} bars={[{ label: 'Name and look over trees in leaf', from: c('2026-09-01'), to: c('2026-10-20') }, { label: 'Cut wood', from: c('2026-12-05'), to: c('2027-02-18') }, { label: 'Keep it cold', from: c('2026-12-05'), to: c('2027-04-25') }, { label: 'Graft and strike', from: c('2027-03-01'), to: c('2027-05-12') }, { label: 'Checks and care', from: c('2027-04-10'), to: c('2027-08-31') }, { label: 'Summer budding', from: c('2027-07-05'), to: c('2027-08-22') }]} />
    <SeasonStrip from={c('2026-09-01')} to={c('2027-09-01')} today={c('2027-02-27')} swap={swap} bars={[{ label: 'Cut wood', from: c('2026-12-05'), to: c('2027-02-18') }]} /><SeasonStrip from={c('2026-09-01')} to={c('2027-09-01')} today={c('2026-09-03')} swap={c('2027-08-21')} bars={[{ label: 'Cut wood', from: c('2026-12-05'), to: c('2027-02-18') }]} /></Section>
    <Section id="st" title="State words"><p className="acts"><StateWord kind="good" /><StateWord kind="soon" /><StateWord kind="test" /><StateWord kind="past" /><StateWord kind="hold" /><StateWord kind="info">In the draw</StateWord></p><p className="acts"><Tag>stored</Tag><Tag tone="info">draw</Tag><Tag tone="good">you claimed 2</Tag><Tag tone="soon">due today</Tag><Tag tone="stop">on hold</Tag></p></Section>
    <Columns kind="even"><Section id="e" title="Nothing here yet"><Empty title="No wood logged this season" action={<ActionLink href="/" kind="first">Log a cutting session</ActionLink>}>The first lot usually comes in early December.</Empty></Section><Section id="r" title="Something refused"><Refusal title="That stick has just gone" message="Idris claimed the last free stick at 8.14 pm." next={[{ href: '/', label: 'Wait for one' }, 'Ask Callum to split his']} /></Section></Columns>
    <Section id="rate" title="A rate"><RateKey /><table className="tbl mid dense"><thead><tr><th scope="col">Case</th><th scope="col" style={{ width: '55%' }}><span className="vh">Drawn</span><RateAxis mean={.72} /></th><th scope="col">Said as</th></tr></thead><tbody>{rates.map((r) => <tr key={r.known}><th scope="row">{r.known} known</th><td className="plot"><RateDot rate={r} mean={.72} /></td><td>{rateWords(r)}</td></tr>)}</tbody></table>
    <table className="tbl mid dense"><tbody><tr><th scope="row">Difference</th><td className="plot" style={{ width: '60%' }}><DifferenceAxis favours={['whip better', 'cleft better']} /><DifferenceBar difference={.1} low={-.1} high={.3} /><DifferenceBar difference={.1} low={0} high={.2} kind="summary" /><DifferenceBar difference={-.2} low={-.3} high={-.1} kind="lumped" /></td></tr></tbody></table></Section>
    <Section id="rib" title="Ribbons"><ViabilityRibbon cut={c('2027-01-11')} window={w1} today={today} swap={swap} stints={[{ from: c('2027-01-11'), to: c('2027-01-13'), basis: 'assumed' }, { from: c('2027-01-13'), to: c('2027-01-30'), basis: 'typed' }, { from: c('2027-01-30'), to: null, basis: 'logger' }]} />
    <p className="kept"><StorageSwatch basis="assumed" /><span>shed</span><span>11 Jan to 13 Jan</span></p>
    <h3>near its end</h3><ViabilityRibbon cut={c('2026-12-08')} window={w2} today={today} swap={swap} stints={[{ from: c('2026-12-08'), to: null, basis: 'assumed' }]} />
    <h3>short</h3><ViabilityRibbon cut={c('2027-02-01')} window={short} today={today} stints={[{ from: c('2027-02-01'), to: null, basis: 'typed' }]} swap={swap} />
    <h3>tiny</h3><ViabilityRibbon cut={c('2027-02-02')} window={tiny} today={today} stints={[]} />
    <h3>long</h3><ViabilityRibbon cut={c('2027-01-11')} window={long} today={c('2028-04-04')} swap={swap} stints={[{ from: c('2027-01-11'), to: null, basis: 'logger' }]} />
    <h3>past</h3><ViabilityRibbon cut={c('2026-11-01')} window={past} today={today} swap={swap} stints={[{ from: c('2026-11-01'), to: null, basis: 'assumed' }]} />
    <h3>long past</h3><ViabilityRibbon cut={c('2026-11-01')} window={past} today={c('2027-10-01')} stints={[{ from: c('2026-11-01'), to: null, basis: 'assumed' }]} />
    <ClockBars clocks={[{ clock: 'reserve', share: .2 }, { clock: 'bud-break', share: .11 }, { clock: 'water', share: .01 }]} limitedBy="reserve" /></Section>
    <Section id="mini" title="Rows"><table className="tbl mid dense"><thead><tr><th scope="col">Lot</th><th scope="col" style={{ width: '50%' }}><span className="vh">Window</span><MiniAxis axis={axis} today={today} swap={swap} /></th><th scope="col">Now</th></tr></thead><tbody>{rows.map((r) => <tr key={r.cut}><td>{r.cut}</td><td className="plot"><MiniWindow axis={axis} today={today} swap={swap} cut={r.cut} window={r.w} /></td><td><KeepingState window={r.w} today={today} /></td></tr>)}</tbody></table>
    <div style={{ width: 200 }}><MiniAxis axis={axis} today={c('2026-11-04')} swap={c('2026-11-21')} /></div></Section>
    <Columns><Section id="tally" title="Stick tally"><StickTally height={46} parts={[{ kind: 'handed', count: 9 }, { kind: 'claimed', count: 5 }, { kind: 'free', count: 3 }, { kind: 'backup', count: 2 }, { kind: 'spoiled', count: 1 }]} /><StickTally height={22} parts={[{ kind: 'claimed', count: 7 }, { kind: 'free', count: 8 }]} /><TallyKey /><SumTable rows={[{ label: 'Claimed', count: 7, glyph: 'claimed' }, { label: 'Free', count: 8, glyph: 'free' }]} total={{ label: 'Cut', count: 15 }} /><SumTable rows={[{ label: 'Claimed', count: 7 }]} total={{ label: 'Cut', count: 18 }} /><Facts items={[['Name', 'fruited true'], false, ['Health', 'seen in leaf']]} /><Ladder steps={[{ state: 'done', title: '30 days', note: '4 moving' }, { state: 'due', title: 'Tie, week 8', note: 'due today' }, { state: 'late', title: '60 days', note: 'since 3 May' }, { state: 'next', title: '90 days', note: '25 Jun' }]} /></Section>
    <Section id="tree" title="Where they are"><TreeSchematic rootstock="St Julien A" limbs={[{ letter: 'a', variety: 'Victoria', heightM: .8, side: 'right', state: 'own' }, { letter: 'b', variety: 'S', heightM: 1.05, side: 'left', state: 'grafted' }, { letter: 'c', variety: 'S', heightM: 1.3, side: 'right', state: 'grafted' }, { letter: 'd', variety: 'S', heightM: 1.5, side: 'left', state: 'donor' }, { letter: 'e', variety: 'S', heightM: 1.75, side: 'right', state: 'grafted' }, { letter: 'f', variety: 'S', heightM: 1.95, side: 'left', state: 'gone' }, { letter: 'g', variety: null, heightM: 2.15, side: 'left', state: 'unnamed' }]} /><BagPreview label={bag} /></Section></Columns>
    <Section id="tree2" title="Many limbs"><TreeSchematic limbs={Array.from({ length: 12 }, (_, i) => ({ letter: 'abcdefghijklmno'[i] ?? '', variety: 'X', heightM: i % 3 ? null : 1.2, state: 'grafted' as const }))} /><AgeCurve spans={[{ from: 0, to: 14, took: 24, known: 29, low: .65, high: .92 }, { from: 15, to: 28, took: 41, known: 51, low: .67, high: .89 }, { from: 99, to: 126, took: 2, known: 8, low: .07, high: .59 }]} curve={Array.from({ length: 19 }, (_, i) => ({ day: i * 7, estimate: .85 - i * .02, low: .75 - i * .025, high: .92 - i * .012, thin: i > 13 }))} tookDays={[3, 3, 4, 9, 20, 22, 22]} failedDays={[5, 40, 99]} /></Section>
    <Columns kind="even"><Section id="form" title="Plain form"><div className="read"><ActionForm action={kitAction} id="plain" label="Plain" values={{ on: '2027-02-04', 'lots.0.sticks': '18', wet: 'dry' }}><OnceKey value={randomUUID()} /><Fields /></ActionForm></div></Section>
    <Section id="form2" title="Hook form"><Hook k={randomUUID()} /></Section></Columns>
  </Frame>
}
const bag = { code: '4TK7WA', variety: "Ashmead's Kernel", crop: 'apple', from: 'tree 12', cut: c('2027-01-11'), sticks: 18, basis: 'Fruited true, 2 seen. May be shared on.', health: 'Seen in leaf Aug 2026, no symptoms; not virus-tested.', keep: 'Keep near 1 °C, sealed. Good to mid Mar, likely to early Jun.' }
