import { type ChildProcess, spawn } from 'node:child_process'
import { rmSync } from 'node:fs'
import { afterAll, expect, inject, it } from 'vitest'
import { newId } from '../../src/db/new-id.ts'
import { preparedFolder } from '../support/folder.ts'
import { start } from './service.ts'
import { Visitor } from './visitor.ts'

const folder = preparedFolder(inject('folder'))
const started: ChildProcess[] = []
afterAll(() => {
  for (const child of started) child.kill('SIGKILL')
  rmSync(folder, { recursive: true, force: true })
})

/** As `npm run reset-link` calls it. */
function resetLink(...address: string[]): Promise<{ code: number | null; said: string }> {
  const { DATABASE_URL: _none, ...env } = process.env
  const script = ['dist/reset-link.js', ...address]
  const child = spawn('node', script, { env: { ...env, EVENGROUND_DATA: folder } })
  let said = ''
  for (const stream of [child.stdout, child.stderr]) stream.on('data', (chunk) => (said += String(chunk)))
  return new Promise((resolve) => child.on('close', (code) => resolve({ code, said })))
}

async function running() {
  const run = await start({ EVENGROUND_DATA: folder })
  started.push(run.child)
  await run.said(/is ready/)
  return run
}

it('an operator makes a link on the stopped service, and it works on the started one', async () => {
  const email = `forgot-${newId()}@example.org`
  const first = await running()
  expect(await new Visitor(first.base).signUp(email)).toBe(303)
  expect(await resetLink(email)).toMatchObject({ code: 2, said: expect.stringContaining('is in use') as string })
  first.child.kill('SIGTERM')
  await first.ended
  expect(await resetLink()).toMatchObject({ code: 2, said: expect.stringContaining('Name the address') as string })
  const nobody = await resetLink('nobody@example.org')
  expect(nobody).toMatchObject({ code: 2, said: expect.stringContaining('No account has') as string })
  const made = await resetLink(email.toUpperCase())
  expect(made.code).toBe(0)
  const link = /\/reset\/[\w-]{43}/.exec(made.said)?.[0] ?? ''
  const second = await running()
  const visitor = new Visitor(second.base)
  expect((await visitor.get(link)).status).toBe(200)
  expect((await visitor.post(link, { newPassword: 'seven herons over the weir' })).status).toBe(303)
  expect((await visitor.get(link)).status).toBe(404)
}, 120_000)
