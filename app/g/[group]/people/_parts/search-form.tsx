interface SearchFormProps {
  /** The list's own address. */
  readonly path: string
  readonly label: string
  readonly search: string
  readonly help?: string
  /** Other choices of the list that stay as they are. */
  readonly keep?: Readonly<Record<string, string | undefined>>
}

/** A search over a list, by address: it works without script and can be bookmarked. */
export function SearchForm({ path, label, search, help, keep = {} }: SearchFormProps) {
  return (
    <form action={path} method="get" className="read">
      <search className="field">
        <label htmlFor="search">{label}</label>
        {help && (
          <span className="help" id="search-help">
            {help}
          </span>
        )}
        <div className="flex flex-wrap gap-2">
          <input
            id="search"
            className="in min-w-0 flex-1"
            type="search"
            name="q"
            defaultValue={search}
            aria-describedby={help ? 'search-help' : undefined}
          />
          {Object.entries(keep).map(
            ([name, value]) => value && <input key={name} type="hidden" name={name} value={value} />,
          )}
          <button type="submit" className="btn second">
            Search
          </button>
        </div>
      </search>
    </form>
  )
}
