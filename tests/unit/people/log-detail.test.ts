import { expect, test } from 'vitest'
import { logDetail } from '#lib/people/log-detail.ts'

test.each([
  [{ from: 'member', to: 'helper' }, 'from member to helper'],
  [{ mark: 'B', nameBefore: null, name: "Coe's Golden Drop" }, 'limb B; from no name to ‘Coe’s Golden Drop’'],
  [{ goneOn: '2027-02-04', mark: 'C' }, 'limb C; 4 Feb 2027'],
  [{ leftOn: '2026-12-31' }, '31 Dec 2026'],
  [{ reason: 'Counted twice' }, 'Counted twice'],
  [{ sticks: 5, role: 'member' }, ''],
  [{}, ''],
  [null, ''],
])('the detail %j reads “%s”', (detail, words) => {
  expect(logDetail(detail)).toBe(words)
})
