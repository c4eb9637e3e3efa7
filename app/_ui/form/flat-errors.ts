/** Messages by the dotted name of their field; '' is the form itself. */
export type FlatErrors = Record<string, string[]>

const isObject = (value: unknown): value is Record<string, unknown> =>
  typeof value === 'object' && value !== null

const messageOf = (node: Record<string, unknown>): string | null => {
  const message = node['message']
  return typeof message === 'string' && message !== '' ? message : null
}

/** Errors that react-hook-form nests as the fields are nested, by dotted name; what lies under `root` is the parent's. */
export function flatErrors(errors: object, parent = ''): FlatErrors {
  const flat: FlatErrors = {}
  const add = (name: string, message: string) => {
    flat[name] = [...(flat[name] ?? []), message]
  }
  for (const [key, node] of Object.entries(errors)) {
    if (key === 'ref' || !isObject(node)) continue
    const name = key === 'root' ? parent : parent === '' ? key : `${parent}.${key}`
    const message = messageOf(node)
    if (message) add(name, message)
    else if (key === 'root')
      for (const child of Object.values(node)) {
        const told = isObject(child) ? messageOf(child) : null
        if (told) add(parent, told)
      }
    else
      for (const [path, told] of Object.entries(flatErrors(node, name)))
        for (const one of told) add(path, one)
  }
  return flat
}
