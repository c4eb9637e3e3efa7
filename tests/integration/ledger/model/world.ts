import type { Actor } from '#lib/access/actor.ts'
import { type CivilDate, civilDateIn } from '#lib/kernel/civil-date.ts'
import type { Database } from '#lib/platform/database/database.ts'
import { makeGroup, makeLot } from '#tests/support/actors.ts'
import { makeSwap } from '../../swaps/swap-world.ts'
import { Model, type ModelLimb } from './state.ts'

/** The ledger under test, and what the commands of a run share. */
export interface Real {
  readonly db: Database
  readonly groupId: string
  readonly today: CivilDate
  /** How many commands were sent in all runs so far, for the count at the end. */
  readonly counts: { commands: number; accepted: number; refused: number }
}

const capPerMember = 6
const capPerVariety = 4

/**
 * A fresh group for one run: five people of all roles, three limbs of which two are of one variety, two stores and
 * two open swaps with tight limits. There is no lot in it yet that the model knows.
 */
export async function makeRun(db: Database, counts: Real['counts']): Promise<{ model: Model; real: Real }> {
  const group = await makeGroup(db)
  const { groupId } = group
  const limbs: ModelLimb[] = []
  const stores: string[] = []
  for (let i = 0; i < 3; i++) {
    const { limbId, varietyId, storeId } = await makeLot(db, group, { sticks: 1 })
    limbs.push({
      id: limbId,
      varietyId: limbs[0] && i === 1 ? limbs[0].varietyId : varietyId,
      keeperId: group.member.memberId,
    })
    stores.push(storeId)
  }
  const [first, second] = limbs
  if (!first || !second) throw new Error('Three limbs were made')
  await db.prisma.limb.update({
    where: { groupId_id: { groupId, id: second.id } },
    data: { varietyId: first.varietyId },
  })
  const swap = async () => ({
    id: await makeSwap(db, group, { capPerMember, capPerVariety }),
    capPerMember,
    capPerVariety,
    status: 'open' as const,
  })
  const actors: readonly Actor[] = [
    group.organiser,
    group.steward,
    group.helper,
    group.member,
    group.otherMember,
  ]
  const model = new Model(actors, limbs, stores.slice(0, 2), [await swap(), await swap()])
  const today = civilDateIn('Europe/London', db.now())
  return { model, real: { db, groupId, today, counts } }
}

interface Row {
  readonly what: string
  readonly figure: number
}

/** What the database says, as lines that can be compared: sticks by lot and account, shares, limits, claims. */
async function linesOfLedger({ db, groupId }: Real, model: Model): Promise<string[]> {
  const { rows } = await db.pool.query<Row>({
    name: 'model-lines',
    text: `select 'lot ' || lot_id || ' ' || account as what, sticks as figure from holding
        where group_id = $1 and lot_id = any($2::uuid[]) and sticks <> 0
      union all
      select 'offering ' || id, shares_claimed from offering where group_id = $1
      union all
      select 'taking ' || swap_id || ' ' || member_id || ' ' || scope, shares from taking
        where group_id = $1 and shares <> 0
      union all
      select 'claim ' || id || ' ' || status::text, sticks from claim where group_id = $1`,
    values: [groupId, model.lots.map((lot) => lot.id)],
  })
  return rows.map(({ what, figure }) => `${what}: ${figure}`).sort()
}

function linesOfTakings(model: Model): string[] {
  return model.swaps.flatMap((swap, at) =>
    model.actors.flatMap(({ memberId }) => {
      const scopes = ['swap', ...new Set(model.limbs.map((limb) => limb.varietyId))]
      return scopes.flatMap((scope) => {
        const shares = model.taken(at, memberId, scope === 'swap' ? null : scope)
        return shares === 0 ? [] : [`taking ${swap.id} ${memberId} ${scope}: ${shares}`]
      })
    }),
  )
}

function linesOfModel(model: Model): string[] {
  const lots = model.lots.flatMap((lot) =>
    [...lot.sticks]
      .filter(([, sticks]) => sticks !== 0)
      .map(([account, sticks]) => `lot ${lot.id} ${account}: ${sticks}`),
  )
  const offerings = model.offerings.map(({ id, claimed }) => `offering ${id}: ${claimed}`)
  const claims = model.claims.map(({ id, status, sticks }) => `claim ${id} ${status}: ${sticks}`)
  return [...lots, ...offerings, ...linesOfTakings(model), ...claims].sort()
}

/** Throws when ledger and model differ, or when the model itself has lost a stick. */
export async function compare(model: Model, real: Real): Promise<void> {
  for (const lot of model.lots) {
    const sum = [...lot.sticks.values()].reduce((total, sticks) => total + sticks, 0)
    const isNegative = [...lot.sticks].some(([account, sticks]) => account !== 'cut' && sticks < 0)
    if (sum !== 0 || isNegative) throw new Error(`The model lost sticks of lot ${lot.id}`)
  }
  const [found, meant] = [await linesOfLedger(real, model), linesOfModel(model)]
  const onlyFound = found.filter((line) => !meant.includes(line))
  const onlyMeant = meant.filter((line) => !found.includes(line))
  if (onlyFound.length + onlyMeant.length === 0) return
  throw new Error(
    `Ledger and model differ.\n  ledger: ${onlyFound.join('; ') || 'nothing more'}\n  model: ${onlyMeant.join('; ') || 'nothing more'}`,
  )
}
