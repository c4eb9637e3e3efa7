import { recordedDay } from '#app/_ui/dates.ts'
import { counted, type TemperatureUnit, temperature } from '#app/_ui/measures.ts'
import { StateWord } from '#app/_ui/state-word.tsx'
import { type CivilDate, daysBetween } from '#lib/kernel/civil-date.ts'
import type { CutPlanView } from '#lib/swaps/cut-plan.ts'
import type { CropPlan } from '#lib/swaps/plan-cuts.ts'
import { thirdOfMonth } from '#lib/viability/third-of-month.ts'

interface CutPlanRowsProps {
  readonly plan: CutPlanView
  readonly today: CivilDate
  readonly unit: TemperatureUnit
}

/** When to cut, crop by crop: a table to print and pass on. */
export function CutPlanRows({ plan, today, unit }: CutPlanRowsProps) {
  return (
    <div className="scroll">
      <table className="tbl mid">
        <caption className="vh">When to cut for the swap, by crop</caption>
        <thead>
          <tr>
            <th scope="col">Crop</th>
            <th scope="col">Cut</th>
            <th scope="col">Now</th>
          </tr>
        </thead>
        <tbody>
          {plan.crops.map((crop) => (
            <tr key={crop.taxonKey}>
              <th scope="row" className="whitespace-normal!">
                {crop.commonName}
                <br />
                <span className="soft">
                  {counted(crop.limbs, 'limb')}, {counted(crop.varieties, 'variety', 'varieties')}
                </span>
              </th>
              <td className="whitespace-normal!">
                {cutWords(crop, plan, today, unit)}
                {crop.isTooCold && (
                  <>
                    <br />
                    <span className="soft">Evergreen wood is hurt by a store as cold as that.</span>
                  </>
                )}
              </td>
              <td>
                <Now crop={crop} today={today} />
              </td>
            </tr>
          ))}
        </tbody>
      </table>
    </div>
  )
}

/** A modelled day within three weeks of the swap is spoken in days before it. */
const nearDays = 21

/** The first day is modelled unless it is the first day of cutting that was set. */
function firstDay(from: CivilDate, { swap, dormantFrom }: CutPlanView, today: CivilDate): string {
  if (from === dormantFrom) return recordedDay(from, today)
  const back = daysBetween(from, swap.heldOn)
  return back < nearDays ? `about ${counted(back, 'day')} before` : thirdOfMonth(from)
}

function cutWords(crop: CropPlan, plan: CutPlanView, today: CivilDate, unit: TemperatureUnit): string {
  const { good, needs } = crop
  if (good) {
    const last = good.until === plan.swap.heldOn ? 'the swap' : recordedDay(good.until, today)
    return `From ${firstDay(good.from, plan, today)} to ${last}.`
  }
  const kept = `Kept at ${temperature(plan.celsius, unit)}, no wood cut in time is good still on the day.`
  return needs?.kind === 'celsius'
    ? `${kept} Cut on the last day, it has to be kept at ${temperature(needs.celsius, unit)} or colder.`
    : `${kept} No store is cold enough: choose an earlier day, or leave it out of this swap.`
}

function Now({ crop: { good }, today }: { readonly crop: CropPlan; readonly today: CivilDate }) {
  if (!good) return <StateWord kind="hold">Not for this day</StateWord>
  if (today < good.from) return <StateWord kind="info">Later</StateWord>
  return today <= good.until ? (
    <StateWord kind="good">Cut now</StateWord>
  ) : (
    <StateWord kind="past">Over</StateWord>
  )
}
