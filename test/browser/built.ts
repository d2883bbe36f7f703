import { execFileSync } from 'node:child_process'
import { chromium } from 'playwright-core'
import type { TestProject } from 'vitest/node'
import { inAFile } from '../support/prepare.ts'
import { chromiumHere } from './service.ts'

declare module 'vitest' {
  interface ProvidedContext {
    /** The address of the browser that all files share. */
    browser: string
  }
}

/** The service is started as its users start it: built. One browser serves all files: to start one takes seconds. */
export default async function built(project: TestProject): Promise<() => Promise<void>> {
  execFileSync('node', ['src/build-if-old.mjs'], { stdio: 'inherit' })
  project.provide('folder', await inAFile())
  const browser = await chromium.launchServer(chromiumHere())
  project.provide('browser', browser.wsEndpoint())
  return () => browser.close()
}
