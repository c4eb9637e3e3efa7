import { PickGroup } from '#app/_ui/form/pick-group.tsx'
import { roleMeanings, roles, roleWords } from '#lib/people/role-words.ts'

const options = roles.map((role) => ({ value: role, label: roleWords[role], note: roleMeanings[role] }))

/** What a person does in the group. */
export function RoleField({ legend = 'Role' }: { readonly legend?: string }) {
  return <PickGroup name="role" legend={legend} options={options} />
}
