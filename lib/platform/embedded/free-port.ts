import { createServer } from 'node:net'

/** True when this process may listen on the port; false when it is taken. Other refusals are thrown. */
export function isPortFree(port: number, host?: string): Promise<boolean> {
  return new Promise((resolve, reject) => {
    const server = createServer()
    server.once('error', (error: NodeJS.ErrnoException) =>
      error.code === 'EADDRINUSE' ? resolve(false) : reject(error),
    )
    server.listen({ port, ...(host ? { host } : {}), exclusive: true }, () =>
      server.close(() => resolve(true)),
    )
  })
}

/** A loopback port that nothing listens on at present. */
export function findFreePort(): Promise<number> {
  return new Promise((resolve, reject) => {
    const server = createServer()
    server.once('error', reject)
    server.listen({ port: 0, host: '127.0.0.1' }, () => {
      const address = server.address()
      server.close(() =>
        address && typeof address === 'object'
          ? resolve(address.port)
          : reject(new Error('No address was given')),
      )
    })
  })
}
