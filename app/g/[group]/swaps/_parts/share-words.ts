import { counted } from '#app/_ui/measures.ts'

interface Shares {
  readonly shares: number
  readonly sharesLeft: number
  readonly sticksPerShare: number
}

/** "2 sticks", or "2 shares, 4 sticks" where a share is more than a stick. */
export function shareCount(shares: number, sticksPerShare: number): string {
  if (sticksPerShare === 1) return counted(shares, 'stick')
  return `${counted(shares, 'share')}, ${counted(shares * sticksPerShare, 'stick')}`
}

/** What is left of a lot in words: "8 of 18 sticks left", "4 of 9 shares left, 2 sticks each". */
export function leftInWords({ shares, sharesLeft, sticksPerShare }: Shares): string {
  if (sticksPerShare === 1) return `${sharesLeft} of ${counted(shares, 'stick')} left`
  return `${sharesLeft} of ${counted(shares, 'share')} left, ${sticksPerShare} sticks each`
}
