import { publicContext } from '#lib/access/context.ts'

export const dynamic = 'force-dynamic'

/** Answers when the server and its database do. */
export async function GET(): Promise<Response> {
  await publicContext().db.pool.query('select 1')
  return Response.json({ status: 'ok' })
}
