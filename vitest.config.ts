import { defineConfig } from 'vitest/config'

export default defineConfig({
  test: {
    include: ['test/**/*.test.ts'],
    exclude: ['test/browser/**', 'node_modules/**'],
    globalSetup: ['test/support/prepare.ts'],
    maxWorkers: '100%',
    // One reading of the modules a worker, not one a file: no test replaces a module or leaves one changed.
    isolate: false,
    // What the compiler made of a module is kept between runs.
    experimental: { fsModuleCache: true },
    testTimeout: 60_000,
    hookTimeout: 120_000,
  },
})
