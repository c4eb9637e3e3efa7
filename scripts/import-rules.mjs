import { existsSync } from 'node:fs'
import { createRequire } from 'node:module'
import { join } from 'node:path'
import { pathToFileURL } from 'node:url'
import { root } from './install.mjs'
import { reportAndExit, Stop } from './steps.mjs'

const folders = ['app', 'lib', 'seed', 'scripts', 'tests']

/**
 * This release of dependency-cruiser parses every file as plain TypeScript and gives up at the first JSX element;
 * its parser is told to expect JSX in files that are named for it.
 */
function expectJsxWhereNamed() {
  const swc = createRequire(import.meta.url)('@swc/core')
  const parse = swc.parseFileSync
  swc.parseFileSync = (/** @type {string} */ file, /** @type {object} */ options) =>
    parse(file, { ...options, tsx: file.endsWith('x') })
}

/** What `.dependency-cruiser.mjs` forbids and the sources do. Throws when next to nothing was looked at. */
async function checkImportRules() {
  expectJsxWhereNamed()
  const { cruise } = await import('dependency-cruiser')
  const file = pathToFileURL(join(root, '.dependency-cruiser.mjs')).href
  const { default: configuration } = await import(file)
  const { options = {}, ...ruleSet } = configuration
  const { enhancedResolveOptions, ...cruiseOptions } = options
  const { output } = await cruise(
    folders.filter((folder) => existsSync(join(root, folder))),
    { ...cruiseOptions, ruleSet, validate: true, baseDir: root },
    enhancedResolveOptions ?? {},
  )
  const { summary } = /** @type {import('dependency-cruiser').ICruiseResult} */ (output)
  const { totalCruised, totalDependenciesCruised = 0, violations } = summary
  const counted = `${totalCruised} modules, ${totalDependenciesCruised} imports`
  if (totalCruised === 0 || totalDependenciesCruised < totalCruised) {
    throw new Stop(`The import rules looked at ${counted} only: something is wrong with how they look`)
  }
  const broken = violations.filter(({ rule }) => rule.severity === 'error')
  if (broken.length === 0) return counted
  throw new Stop(
    broken
      .map(({ rule, from, to, cycle }) => {
        const way = cycle ? cycle.map(({ name }) => name).join(' → ') : to
        return `${rule.name}: ${from} → ${way}`
      })
      .join('\n'),
  )
}

// A program of its own, without the TypeScript loader: under that one, dependency-cruiser does not find its parser.
checkImportRules().then((counted) => console.log(counted), reportAndExit)
