'use client'

import { useSyncExternalStore } from 'react'

const never = () => () => {}

/** False on the server and without script, true once script runs: for controls that need it. */
export const useHasScript = (): boolean =>
  useSyncExternalStore(
    never,
    () => true,
    () => false,
  )
