import { execFileSync } from 'node:child_process'
import type { TestProject } from 'vitest/node'
import { inAFile } from '../support/prepare.ts'

/** The service is started as its users start it: built. */
export default async function built(project: TestProject): Promise<void> {
  execFileSync('node', ['src/build-if-old.mjs'], { stdio: 'inherit' })
  project.provide('folder', await inAFile())
}
