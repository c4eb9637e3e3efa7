import fc from 'fast-check'
import { renderToStaticMarkup } from 'react-dom/server'
import { expect, test } from 'vitest'
import { placeLimbs, type SchematicLimb, treeShape } from '#app/_ui/tree-layout.ts'
import { TreeSchematic } from '#app/_ui/tree-schematic.tsx'

const anyLimbs = fc.array(
  fc.record({
    letter: fc.string({ minLength: 1, maxLength: 2 }),
    variety: fc.option(fc.constant('Victoria')),
    heightM: fc.option(fc.double({ min: 0, max: 9, noNaN: true })),
    state: fc.constantFrom<SchematicLimb['state']>('own', 'grafted', 'donor', 'unnamed', 'gone'),
  }),
  { maxLength: 24 },
)

test('no two letters of one side lie on each other, however many limbs there are', () => {
  fc.assert(
    fc.property(anyLimbs, (limbs) => {
      const bubbles = placeLimbs(limbs, treeShape(limbs)).map((limb) => limb.bubble)
      for (const [i, a] of bubbles.entries())
        for (const b of bubbles.slice(i + 1))
          if (Math.sign(a.x - 210) === Math.sign(b.x - 210))
            expect(Math.abs(a.y - b.y)).toBeGreaterThanOrEqual(26)
    }),
  )
})

test('a drawing says what it shows, in the unit of the person', () => {
  const html = renderToStaticMarkup(
    <TreeSchematic
      limbs={[
        { letter: 'a', variety: 'Victoria', heightM: 0.8, direction: 'south', state: 'own' },
        { letter: 'b', variety: null, heightM: null, state: 'unnamed' },
        { letter: 'c', variety: 'Coe', heightM: 2, state: 'gone' },
      ]}
      rootstock="St Julien A"
      lengthUnit="in"
    />,
  )
  expect(html).toContain(
    'aria-label="Drawing of the tree: limb a, at 2.5 ft, south, Victoria; limb b, height not recorded, no name; limb c, at 6.5 ft, did not take, Coe."',
  )
  expect(html).toContain('stock: St Julien A')
})

test('a tree without limbs is still a tree', () => {
  expect(renderToStaticMarkup(<TreeSchematic limbs={[]} />)).toContain('class="tr-trunk"')
})
