'use client'

import { useRouter } from 'next/navigation'
import { useEffect, useState } from 'react'
import { useHasScript } from '#app/_ui/form/use-has-script.ts'

interface LiveDayProps {
  /** Where the mark of the day is read. */
  readonly from: string
  /** The mark with which this page was made. */
  readonly version: string
  /** The page itself, for those without script. */
  readonly here: string
}

const everyMs = 3000

/** Looks every three seconds whether another helper did something, and shows the page anew when they did. */
export function LiveDay({ from, version, here }: LiveDayProps) {
  const router = useRouter()
  const hasScript = useHasScript()
  const [isLost, setLost] = useState(false)
  useEffect(() => {
    const stop = new AbortController()
    const look = async () => {
      if (document.visibilityState === 'hidden') return
      try {
        const answer = await fetch(from, { cache: 'no-store', signal: stop.signal })
        if (!answer.ok) throw new Error(`The day answers ${answer.status}`)
        const { version: now }: { version: string } = await answer.json()
        setLost(false)
        if (now !== version) router.refresh()
      } catch {
        // Shown on the page: in a shed the signal goes and comes back.
        if (!stop.signal.aborted) setLost(true)
      }
    }
    const timer = setInterval(look, everyMs)
    return () => {
      clearInterval(timer)
      stop.abort()
    }
  }, [from, version, router])
  if (!hasScript) {
    return (
      <p>
        <a className="tap" href={here}>
          Show what others did meanwhile
        </a>
      </p>
    )
  }
  return (
    <p className="note" role="status">
      {isLost
        ? 'No signal. What you see may be old; a tap is saved only when the page says so.'
        : 'What other helpers do shows here by itself.'}
    </p>
  )
}
