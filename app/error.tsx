'use client'

import { Trouble } from '#app/_ui/trouble.tsx'

export default function ErrorPage({ error, retry }: { error: unknown; retry: () => void }) {
  return <Trouble error={error} retry={retry} />
}
