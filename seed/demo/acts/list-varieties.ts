import { required } from '#lib/kernel/assert.ts'
import { addDays, type CivilDate } from '#lib/kernel/civil-date.ts'
import { addVariety } from '#lib/varieties/add-variety.ts'
import { editVariety } from '#lib/varieties/edit-variety.ts'
import { AddVarietyInput, EditVarietyInput } from '#lib/varieties/input.ts'
import { type VarietySeed, varietySeeds } from '#seed/demo/data/varieties.ts'
import {
  type GrownVariety,
  mustWork,
  type Person,
  type Simulation,
  severalAtOnce,
} from '#seed/demo/simulation.ts'
import { cropOfTaxon } from '#seed/demo/truth.ts'

const entry = (seed: VarietySeed, checkedOn: CivilDate) => ({
  taxonKey: seed.taxonKey,
  name: seed.name,
  nameCertainty: seed.certainty,
  note: seed.note,
  protection: seed.protection,
  protectionNote: seed.protectionNote,
  protectionCheckedOn: checkedOn,
  introducedYear: seed.introducedYear,
})

/** The list of varieties is drawn up a year before the older of the finished swaps. */
export async function listVarieties(sim: Simulation, librarian: Person): Promise<readonly GrownVariety[]> {
  const on = addDays(sim.calendar.finished[0].cutFrom, -140)
  return severalAtOnce(varietySeeds, async (seed) => {
    const input = AddVarietyInput.parse({
      key: sim.db.newId(),
      ...entry(seed, addDays(on, -6)),
      synonyms: seed.synonyms,
    })
    const { varietyId } = mustWork(await addVariety(sim.at(on), librarian.actor, input), `list ${seed.name}`)
    return { ...seed, varietyId, crop: required(cropOfTaxon[seed.taxonKey], `the crop of ${seed.taxonKey}`) }
  })
}

/** Before each season somebody goes through the lists again: a status is as good as the day it was looked up. */
export async function lookUpProtection(
  sim: Simulation,
  librarian: Person,
  varieties: readonly GrownVariety[],
): Promise<void> {
  const on = addDays(sim.calendar.current.cutFrom, -12)
  await severalAtOnce(varieties, async (variety) => {
    const input = EditVarietyInput.parse({ varietyId: variety.varietyId, ...entry(variety, on) })
    mustWork(await editVariety(sim.at(on), librarian.actor, input), `look up ${variety.name}`)
  })
}
