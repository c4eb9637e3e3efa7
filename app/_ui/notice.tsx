import type { ReactNode } from 'react'

interface NoticeProps {
  readonly tone?: 'good' | 'soon' | 'stop' | 'info'
  readonly children: ReactNode
}

/** Something that was done or has changed, read out when it appears. */
export function Notice({ tone = 'good', children }: NoticeProps) {
  return (
    <div className={tone === 'info' ? 'callout' : `callout ${tone}`} role="status">
      {typeof children === 'string' ? <p>{children}</p> : children}
    </div>
  )
}
