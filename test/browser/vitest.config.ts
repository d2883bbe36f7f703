import { defineConfig } from 'vitest/config'

export default defineConfig({
  test: {
    include: ['test/browser/**/*.test.ts'],
    globalSetup: ['test/browser/built.ts'],
    ...{ testTimeout: 300_000, hookTimeout: 240_000, fileParallelism: false },
  },
})
