import pg from 'pg'

/** Nothing to do: the failed query itself says what happened. */
const alreadySaid = () => {}

/** An answer of the server to one statement, after which it goes on listening as before. */
const isOnlyRefused = (error: unknown): boolean =>
  error instanceof pg.DatabaseError && error.severity === 'ERROR'

/**
 * A pool that keeps a connection after the server refused a statement. `pg` itself throws the connection away after
 * any error, so that in a rush, where most claims are refused, nearly every answer would cost a new connection with
 * its password check. A single statement leaves nothing half done; where the connection itself failed it still goes.
 */
export function openSteadyPool(config: pg.PoolConfig): pg.Pool {
  const pool = new pg.Pool(config)
  const query = async (statement: string | pg.QueryConfig, values?: unknown[]): Promise<pg.QueryResult> => {
    const client = await pool.connect()
    client.on('error', alreadySaid)
    let failure: unknown
    try {
      return await client.query(statement, values)
    } catch (error) {
      failure = error
      throw error
    } finally {
      client.off('error', alreadySaid)
      client.release(failure !== undefined && !isOnlyRefused(failure))
    }
  }
  pool.query = query as typeof pool.query
  return pool
}
