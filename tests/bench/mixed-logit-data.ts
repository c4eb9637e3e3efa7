import { seededRandom } from '#lib/kernel/seeded-random.ts'

/** Rows of counts with two crossed groupings, four methods and the weeks in store. */
export interface MixedLogitData {
  readonly successes: number[]
  readonly trials: number[]
  readonly varieties: number[]
  readonly growers: number[]
  readonly methods: number[]
  readonly weeks: number[]
}

/** A normal deviate from two uniform ones (G. Box and M. Muller 1958, Ann Math Stat 29:610–611). */
const normal = (next: () => number) => Math.sqrt(-2 * Math.log(1 - next())) * Math.cos(2 * Math.PI * next())

/**
 * Invented outcomes with known effects, the same for the same sizes everywhere: some varieties and growers are much
 * commoner than others, as in a group.
 */
export function mixedLogitData(cells: number, varietyCount: number, growerCount: number): MixedLogitData {
  const random = seededRandom(cells)
  const deviates = (count: number, sd: number) =>
    Array.from({ length: count }, () => sd * normal(random.next))
  const ofVariety = deviates(varietyCount, 0.8)
  const ofGrower = deviates(growerCount, 0.5)
  const ofMethod = [0, -0.5, 0.3, -0.2]
  const common = (count: number) => Math.floor(count * random.next() ** 1.5)
  const data: MixedLogitData = {
    successes: [],
    trials: [],
    varieties: [],
    growers: [],
    methods: [],
    weeks: [],
  }
  for (let cell = 0; cell < cells; cell++) {
    const [variety, grower] = [common(varietyCount), common(growerCount)]
    const [method, weeks] = [random.integer(0, 3), random.integer(0, 16)]
    const shift = (ofVariety[variety] ?? 0) + (ofGrower[grower] ?? 0) + (ofMethod[method] ?? 0)
    const chance = 1 / (1 + Math.exp(-(1.2 - 0.06 * weeks + shift)))
    const trials = random.integer(1, 19)
    data.successes.push(Array.from({ length: trials }, () => random.chance(chance)).filter(Boolean).length)
    data.trials.push(trials)
    data.varieties.push(variety)
    data.growers.push(grower)
    data.methods.push(method)
    data.weeks.push(weeks)
  }
  return data
}
