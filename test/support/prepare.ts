import { mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import type { TestProject } from 'vitest/node'
import { openEmbedded } from '../../src/db/embedded.ts'
import { newId } from '../../src/db/new-id.ts'
import { openServer } from '../../src/db/server.ts'
import { onServer } from './server.ts'

declare module 'vitest' {
  interface ProvidedContext {
    template: string
  }
}

/**
 * Makes one migrated, empty database for all test files to start from, on either engine: making it anew takes seconds,
 * restoring or copying it does not. What is provided is the file of the embedded one, or the name of the one on the server.
 */
export default async function prepare(project: TestProject): Promise<() => Promise<void>> {
  const server = process.env.TEST_DATABASE_URL
  return server ? onTheServer(project, server) : inAFile(project)
}

async function inAFile(project: TestProject): Promise<() => Promise<void>> {
  const folder = mkdtempSync(join(tmpdir(), 'evenground-test-'))
  const file = join(folder, 'template.tar')
  const database = await openEmbedded(null)
  await database.migrate('migrations')
  writeFileSync(file, Buffer.from(await (await database.engine.dumpDataDir('none')).arrayBuffer()))
  await database.close()
  project.provide('template', file)
  return async () => rmSync(folder, { recursive: true, force: true })
}

async function onTheServer(project: TestProject, server: string): Promise<() => Promise<void>> {
  const name = `evenground_template_${newId().replaceAll('-', '')}`
  await onServer(server, `create database ${name}`)
  const url = new URL(server)
  url.pathname = `/${name}`
  const database = await openServer(url.href)
  await database.migrate('migrations')
  await database.close()
  project.provide('template', name)
  return () => onServer(server, `drop database ${name} with (force)`)
}
