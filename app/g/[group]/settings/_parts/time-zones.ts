/** The time zones that this machine knows, with the one in use should it go by an older name. */
export function timeZoneChoices(inUse: string): { value: string; label: string; group: string }[] {
  const names = new Set([...Intl.supportedValuesOf('timeZone'), 'UTC', inUse])
  return [...names].sort().map((name) => {
    const [area, ...place] = name.split('/')
    return {
      value: name,
      label: place.length > 0 ? place.join(', ').replaceAll('_', ' ') : name,
      group: place.length > 0 && area ? area : 'Other',
    }
  })
}
