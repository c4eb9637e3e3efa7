/** Runs once when a server process starts: mail that waits in the outbox is sent from here. */
export async function register(): Promise<void> {
  if (process.env['NEXT_RUNTIME'] !== 'nodejs' || process.env['NEXT_PHASE'] === 'phase-production-build')
    return
  const { startMailDelivery } = await import('#lib/platform/mail/delivery.ts')
  startMailDelivery()
}
