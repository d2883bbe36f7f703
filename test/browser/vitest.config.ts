import { defineConfig } from 'vitest/config'

export default defineConfig({
  test: {
    include: ['test/browser/**/*.test.ts'],
    globalSetup: ['test/browser/built.ts'],
    // Each file starts a service and a browser of its own.
    maxWorkers: 2,
    ...{ testTimeout: 300_000, hookTimeout: 240_000 },
  },
})
