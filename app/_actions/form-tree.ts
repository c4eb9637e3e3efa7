type Tree = { [name: string]: Tree | string | string[] }

const isTree = (value: Tree | string | string[] | undefined): value is Tree =>
  typeof value === 'object' && !Array.isArray(value)

/** Lists are sent as `lots.0.sticks`, `lots.1.sticks`: objects whose keys are numbers become arrays, in order. */
function withArrays(value: Tree | string | string[]): unknown {
  if (!isTree(value)) return value
  const entries = Object.entries(value).map(([key, child]) => [key, withArrays(child)] as const)
  const isList = entries.length > 0 && entries.every(([key]) => /^\d+$/.test(key))
  if (!isList) return Object.fromEntries(entries)
  const list: unknown[] = []
  for (const [key, child] of entries) list[Number(key)] = child
  return list
}

const highestIndex = 500

/**
 * What a form sent, with its dotted names unfolded. React's own fields and files are left out; a name sent
 * several times becomes a list of texts.
 */
export function formTree(form: FormData): unknown {
  const tree: Tree = Object.create(null)
  for (const name of new Set(form.keys())) {
    if (name.startsWith('$ACTION')) continue
    const texts = form.getAll(name).filter((value): value is string => typeof value === 'string')
    const path = name.split('.')
    if (path.some((step) => step === '__proto__' || (/^\d+$/.test(step) && Number(step) > highestIndex)))
      continue
    let place = tree
    for (const step of path.slice(0, -1)) {
      const next = place[step]
      const child: Tree = isTree(next) ? next : Object.create(null)
      place[step] = child
      place = child
    }
    const [first = '', ...more] = texts
    place[path.at(-1) ?? name] = more.length > 0 ? texts : first
  }
  return withArrays(tree)
}
