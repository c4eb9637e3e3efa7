import { applyMigrations } from '#lib/platform/migrations/apply-migrations.ts'
import { step } from './steps.mjs'
import { withDatabase } from './with-database.ts'

await withDatabase('npm run db:migrate', async (url) => {
  const applied = await step('Bringing the database up to date', () => applyMigrations(url))
  console.log(applied.length > 0 ? applied.map((name) => `  ${name}`).join('\n') : '  It already was.')
})
