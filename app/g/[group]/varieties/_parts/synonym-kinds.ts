/** The kinds of other names, for a form. */
export const synonymKinds = [
  { value: 'synonym', label: 'Another name' },
  { value: 'selling_name', label: 'A selling name' },
  { value: 'breeder_code', label: 'A breeder’s code' },
]
