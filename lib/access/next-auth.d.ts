import 'next-auth'
import 'next-auth/jwt'

declare module 'next-auth' {
  interface Session {
    loginId: string
    sessionVersion: number
  }
}

declare module 'next-auth/jwt' {
  interface JWT {
    sessionVersion: number
  }
}
