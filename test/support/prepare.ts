import { mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import type { TestProject } from 'vitest/node'
import { openEmbedded } from '../../src/db/embedded.ts'

declare module 'vitest' {
  interface ProvidedContext {
    template: string
  }
}

/** Makes one migrated, empty database for all test files to start from: making it anew takes seconds, restoring does not. */
export default async function prepare(project: TestProject): Promise<() => void> {
  const folder = mkdtempSync(join(tmpdir(), 'evenground-test-'))
  const file = join(folder, 'template.tar')
  if (!process.env.TEST_DATABASE_URL) {
    const database = await openEmbedded(null)
    await database.migrate('migrations')
    writeFileSync(file, Buffer.from(await (await database.engine.dumpDataDir('none')).arrayBuffer()))
    await database.close()
  }
  project.provide('template', file)
  return () => rmSync(folder, { recursive: true, force: true })
}
