import { describe, expect, test } from 'vitest'
import type { Actor, Role } from '#lib/access/actor.ts'
import { can, mayActFor, notAllowed, type Right } from '#lib/access/policy.ts'

const actor = (role: Role): Actor => ({ groupId: 'g', memberId: 'm', role })

describe('what each role may do', () => {
  const table: [Right, Role[]][] = [
    ['invite-people', ['organiser']],
    ['change-roles', ['organiser']],
    ['change-settings', ['organiser']],
    ['see-contacts', ['organiser', 'steward']],
    ['add-people-without-account', ['organiser', 'steward', 'helper']],
    ['act-for-others', ['organiser', 'steward', 'helper']],
    ['edit-varieties', ['organiser', 'steward', 'helper']],
    ['edit-any-tree', ['organiser', 'steward']],
    ['keep-stores', ['organiser', 'steward', 'helper']],
    ['run-swaps', ['organiser']],
    ['offer-any-lot', ['organiser', 'steward', 'helper']],
    ['override-protection', ['organiser', 'steward']],
    ['hand-over', ['organiser', 'steward', 'helper']],
    ['place-holds', ['organiser', 'steward']],
    ['import-data', ['organiser']],
    ['read-log', ['organiser', 'steward']],
  ]
  test.each(table)('%s is for %j and nobody else', (right, roles) => {
    const allowed = (['organiser', 'steward', 'helper', 'member'] as const).filter((role) =>
      can(actor(role), right),
    )
    expect(allowed).toEqual(roles)
    expect(notAllowed(right)).toEqual({ kind: 'not-allowed', right, roles })
  })
})

test('everybody acts for themselves, only helpers and up for others', () => {
  expect(mayActFor(actor('member'), 'm')).toBe(true)
  expect(mayActFor(actor('member'), 'another')).toBe(false)
  expect(mayActFor(actor('helper'), 'another')).toBe(true)
})
