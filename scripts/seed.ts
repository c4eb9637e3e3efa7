import { demoWorld, prepareDatabase } from './start/prepare-database.ts'
import { Stop, step } from './steps.mjs'
import { withDatabase } from './with-database.ts'

await withDatabase('npm run seed', async (url, settings) => {
  if (settings.isOwnProduction) {
    throw new Stop(
      'The demo world does not go into a database of your own in production: anybody may sign in to it as anybody.',
    )
  }
  const { isFilledNow } = await step('Filling the database with the demo world', (onProgress) =>
    prepareDatabase(url, { demo: demoWorld, onProgress }),
  )
  console.log(isFilledNow ? '  Done.' : '  The database already holds a group; nothing was changed.')
})
