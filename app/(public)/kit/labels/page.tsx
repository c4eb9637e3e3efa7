import { Frame } from '#app/_ui/frame.tsx'
import { BagSheets } from '#app/_ui/labels/bag-sheets.tsx'
import { FlagSheets } from '#app/_ui/labels/flag-sheets.tsx'
import { flagsFor } from '#app/_ui/labels/stick-flag.tsx'
import { PageHead } from '#app/_ui/page-head.tsx'
import { civilDate as c } from '#lib/kernel/civil-date.ts'
const bag = { code: '4TK7WA', variety: "Ashmead's Kernel", crop: 'apple', from: 'tree 12', cut: c('2027-01-11'), sticks: 18, basis: 'Fruited true, 2 seen. May be shared on.', health: 'Seen in leaf Aug 2026, no symptoms; not virus-tested.', keep: 'Keep near 1 °C, sealed. Good to mid Mar, likely to early Jun.' }
export default function Labels() {
  return <Frame group={{ slug: 'm', name: 'Marrow Lane Orchard Circle', season: '2026–27' }} current="wood"><PageHead title="Labels" />
    <BagSheets start={3} labels={[bag, { ...bag, sticks: 42, variety: 'Reinette grise du Canada of Marrow Lane' }, { ...bag, variety: 'Beurré Superfin', sticks: 3 }, { ...bag, variety: null, from: 'from Joss Pemberley', hold: { on: c('2027-02-02'), by: 'Nell Fairweather', reason: 'label lost.' } }]} />
    <FlagSheets start={2} labels={[...flagsFor({ code: '4TK7WA', variety: "Ashmead's Kernel", cut: c('2027-01-11') }, 18), { code: 'Z3UN5E', variety: null, cut: c('2027-01-20'), hold: true }, { code: 'Z3UN5E', variety: 'Reinette grise du Canada of Marrow Lane', cut: c('2027-01-20') }]} />
  </Frame>
}
