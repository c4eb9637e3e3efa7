import { nextAuthHandler } from '#lib/access/session.ts'

export { nextAuthHandler as GET, nextAuthHandler as POST }
