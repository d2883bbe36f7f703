import { availableParallelism } from 'node:os'
import { defineConfig } from 'vitest/config'
import { engineFree } from './test/support/engine-free.ts'
import { slowFirst } from './test/support/slow-first.ts'
import { layTemporaryInMemory } from './test/support/temporary.ts'

layTemporaryInMemory()

/** By what they took; the order says nothing else. */
const slow = [
  'process/backup',
  'process/starting',
  'reports/recompute',
  'reports/recompute-odd',
  'exchange/bring-back',
  'rules/access',
  'comparison/rows-page',
  'demo/demo',
  'decisions/typed-and-printed',
  'exchange/rows-in',
  'db/upkeep',
  'process/reset-link',
  'web/every-field',
  'process/sheets-killed',
  'db/migrating',
  'exchange/forged',
]

export default defineConfig({
  test: {
    include: ['test/**/*.test.ts'],
    exclude: ['test/browser/**', 'node_modules/**', ...(process.env.TEST_DATABASE_URL ? engineFree() : [])],
    globalSetup: ['test/support/prepare.ts'],
    // Half more than there are processors: many wait for a service, a database or R that they have started.
    maxWorkers: Math.ceil(1.5 * availableParallelism()),
    sequence: { sequencer: slowFirst(slow) },
    // One reading of the modules a worker, not one a file: no test replaces a module or leaves one changed.
    isolate: false,
    // What the compiler made of a module is kept between runs.
    experimental: { fsModuleCache: true },
    testTimeout: 60_000,
    hookTimeout: 120_000,
  },
})
