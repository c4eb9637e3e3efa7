import type { Metadata, Viewport } from 'next'
import type { ReactNode } from 'react'
import { preload } from 'react-dom'
import { HatchDefs } from '#app/_ui/hatch-defs.tsx'
import { tabIcon } from '#app/_ui/split-tally.tsx'
import './globals.css'

const upright = [
  new URL('./_ui/fonts/besley-latin-wght-normal.woff2', import.meta.url),
  new URL('./_ui/fonts/atkinson-hyperlegible-next-latin-wght-normal.woff2', import.meta.url),
  new URL('./_ui/fonts/atkinson-hyperlegible-mono-latin-wght-normal.woff2', import.meta.url),
]

export const metadata: Metadata = {
  title: { template: '%s · Tallywood', default: 'Tallywood' },
  description:
    'The ledger of a fruit-growing group’s winter wood: every stick, from the donor tree to the tree it became.',
  icons: { icon: tabIcon },
}

export const viewport: Viewport = {
  width: 'device-width',
  initialScale: 1,
  viewportFit: 'cover',
  themeColor: [
    { media: '(prefers-color-scheme: light)', color: '#f5f7f1' },
    { media: '(prefers-color-scheme: dark)', color: '#141915' },
  ],
}

export default function RootLayout({ children }: { children: ReactNode }) {
  for (const file of upright)
    preload(file.pathname, { as: 'font', type: 'font/woff2', crossOrigin: 'anonymous' })
  return (
    <html lang="en-GB">
      <body>
        <a className="skip" href="#main">
          Skip to the page
        </a>
        <HatchDefs />
        {children}
      </body>
    </html>
  )
}
