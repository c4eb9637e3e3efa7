/** Runs once when a server process starts: mail that waits is sent, and what is due in the swaps done, from here. */
export async function register(): Promise<void> {
  if (process.env['NEXT_RUNTIME'] !== 'nodejs' || process.env['NEXT_PHASE'] === 'phase-production-build')
    return
  const { startMailDelivery } = await import('#lib/platform/mail/delivery.ts')
  startMailDelivery()
  const { startMailRounds } = await import('#lib/week/mail-rounds.ts')
  await startMailRounds()
  const { startReleases } = await import('#lib/swaps/release-loop.ts')
  startReleases()
}
