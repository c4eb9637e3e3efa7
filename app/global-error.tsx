'use client'

import { Trouble } from '#app/_ui/trouble.tsx'
import './globals.css'

export default function GlobalError({ error, retry }: { error: unknown; retry: () => void }) {
  return (
    <html lang="en-GB">
      <body>
        <title>Something broke · Tallywood</title>
        <Trouble error={error} retry={retry} />
      </body>
    </html>
  )
}
