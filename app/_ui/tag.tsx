import type { ReactNode } from 'react'

interface TagProps {
  readonly tone?: 'plain' | 'good' | 'soon' | 'stop' | 'info'
  readonly children: ReactNode
}

/** A word on a slip that is cut on the slant. */
export function Tag({ tone = 'plain', children }: TagProps) {
  return <span className={tone === 'plain' ? 'tag' : `tag ${tone}`}>{children}</span>
}
