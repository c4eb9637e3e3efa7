/**
 * Which folder may import which: kernel ← pure ← platform ← rooms ← adapters ← app. A folder of `lib` that is not
 * named here is a room.
 */
const kernel = '^lib/kernel/'
const pure = '^lib/(viability|statistics|allotment|grafting)/|^lib/access/(actor|policy)\\.ts$'
const platform = '^lib/platform/'
const adapters = '^lib/(access|forms|formats|request)/'
const notPure = `${pure}|${kernel}`
const pureMaths = 'node_modules/(@stdlib|@noble/hashes)/'

const everyPackage = ['npm', 'npm-dev', 'npm-optional', 'npm-peer', 'npm-no-pkg', 'npm-unknown', 'core']

/** @type {import('dependency-cruiser').IConfiguration} */
export default {
  forbidden: [
    {
      name: 'no-cycles',
      severity: 'error',
      from: {},
      to: { circular: true },
    },
    {
      name: 'nothing-unresolved',
      comment: 'An import that leads nowhere would slip through all the rules below.',
      severity: 'error',
      from: {},
      to: { couldNotResolve: true },
    },
    {
      name: 'kernel-imports-nothing-but-itself',
      severity: 'error',
      from: { path: kernel },
      to: { pathNot: `${kernel}|node_modules/zod/` },
    },
    {
      name: 'pure-imports-kernel-and-pure-only',
      comment: 'No input or output, clock, randomness, database or React in the calculations.',
      severity: 'error',
      from: { path: pure },
      to: { pathNot: `${notPure}|node_modules/zod/|${pureMaths}` },
    },
    {
      name: 'pure-imports-no-package',
      severity: 'error',
      from: { path: notPure },
      // zod is pure itself: it only says what shape a value has. So are special functions.
      to: { dependencyTypes: everyPackage, pathNot: `node_modules/zod/|${pureMaths}` },
    },
    {
      name: 'platform-imports-below-only',
      severity: 'error',
      from: { path: platform },
      to: { path: '^(lib|app|seed|scripts|tests)/', pathNot: `${notPure}|${platform}` },
    },
    {
      name: 'rooms-import-no-adapter',
      comment: 'Who may do what (actor, policy) is pure and open to rooms; sessions and forms are not.',
      severity: 'error',
      from: { path: '^lib/', pathNot: `${notPure}|${platform}|${adapters}` },
      to: { path: '^lib/(access|forms|request)/', pathNot: notPure },
    },
    {
      name: 'lib-knows-no-app',
      severity: 'error',
      from: { path: '^lib/' },
      to: { path: '^(app|seed|scripts|tests)/' },
    },
    {
      name: 'rooms-know-no-framework',
      severity: 'error',
      from: { path: '^lib/', pathNot: adapters },
      to: { path: 'node_modules/(next|next-auth|react|react-dom|react-hook-form)/' },
    },
    {
      name: 'app-reaches-the-database-through-lib',
      severity: 'error',
      from: { path: '^app/' },
      to: { path: '^lib/platform/generated/|node_modules/(pg|@prisma|prisma)/' },
    },
    {
      name: 'served-code-knows-no-tests-or-scripts',
      severity: 'error',
      from: { path: '^(app|lib|seed)/' },
      to: { path: '^(tests|scripts)/' },
    },
    {
      name: 'served-code-uses-no-development-package',
      severity: 'error',
      from: { path: '^(app|lib|seed)/' },
      to: { dependencyTypes: ['npm-dev'], dependencyTypesNot: ['type-only'] },
    },
  ],
  options: {
    parser: 'swc',
    tsPreCompilationDeps: true,
    tsConfig: { fileName: 'tsconfig.json' },
    doNotFollow: { path: ['node_modules', '^lib/platform/generated'] },
    exclude: { path: ['\\.css$'] },
    enhancedResolveOptions: {
      exportsFields: ['exports'],
      conditionNames: ['import', 'require', 'node', 'default', 'types'],
      mainFields: ['module', 'main', 'types'],
      extensions: ['.ts', '.tsx', '.mjs', '.js', '.json'],
    },
  },
}
