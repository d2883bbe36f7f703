import { defineConfig } from 'vitest/config'
import { slowFirst } from '../support/slow-first.ts'
import { layTemporaryInMemory } from '../support/temporary.ts'

layTemporaryInMemory()

const slow = ['every-page', 'budgets', 'without-signal', 'year-counted', 'week-counted', 'whole-year']

export default defineConfig({
  test: {
    include: ['test/browser/**/*.test.ts'],
    globalSetup: ['test/browser/built.ts'],
    // Each file starts a service and a browser of its own.
    maxWorkers: 3,
    sequence: { sequencer: slowFirst(slow.map((one) => `browser/${one}`)) },
    ...{ testTimeout: 300_000, hookTimeout: 240_000 },
  },
})
