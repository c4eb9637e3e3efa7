import { defineConfig } from 'prisma/config'

/** For Prisma's command line; the application migrates through `lib/platform/migrations` instead. */
export default defineConfig({
  schema: 'prisma/schema',
  migrations: { path: 'prisma/migrations' },
  datasource: { url: process.env['DATABASE_URL'] ?? '' },
})
