import { Notice } from '#app/_ui/notice.tsx'

interface DoneNoticeProps {
  /** The value of `?done=` in the address. */
  readonly done: string | string[] | undefined
  readonly words: Readonly<Record<string, string>>
}

/** What was just done, after an action that led to this page. */
export function DoneNotice({ done, words }: DoneNoticeProps) {
  const said = typeof done === 'string' && Object.hasOwn(words, done) ? words[done] : undefined
  return said ? <Notice>{said}</Notice> : null
}
