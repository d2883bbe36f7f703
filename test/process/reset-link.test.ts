import { type ChildProcess, spawn } from 'node:child_process'
import { rmSync } from 'node:fs'
import { afterAll, expect, inject, it } from 'vitest'
import { newId } from '../../src/db/new-id.ts'
import { preparedFolder } from '../support/folder.ts'
import { freePort, start } from './service.ts'
import { Visitor } from './visitor.ts'

const folder = preparedFolder(inject('folder'))
const started: ChildProcess[] = []
afterAll(() => {
  for (const child of started) child.kill('SIGKILL')
  rmSync(folder, { recursive: true, force: true })
})

/** As `npm run` calls them. */
const resetLink = (...address: string[]) => program('reset-link', address)
const endSessions = (...whose: string[]) => program('end-sessions', whose)

function program(name: string, given: string[]): Promise<{ code: number | null; said: string }> {
  const { DATABASE_URL: _none, ...env } = process.env
  const child = spawn('node', [`dist/${name}.js`, ...given], { env: { ...env, EVENGROUND_DATA: folder } })
  let said = ''
  for (const stream of [child.stdout, child.stderr]) stream.on('data', (chunk) => (said += String(chunk)))
  return new Promise((resolve) => child.on('close', (code) => resolve({ code, said })))
}

async function running(more: Record<string, string> = {}) {
  const run = await start({ EVENGROUND_DATA: folder, ...more })
  started.push(run.child)
  await run.said(/is ready/)
  return run
}

async function stopped({ child, ended }: Awaited<ReturnType<typeof running>>): Promise<void> {
  child.kill('SIGTERM')
  await ended
}

it('an operator makes a link on the stopped service, and it works on the started one', async () => {
  const email = `forgot-${newId()}@example.org`
  const first = await running()
  expect(await new Visitor(first.base).signUp(email)).toBe(303)
  expect(await resetLink(email)).toMatchObject({ code: 2, said: expect.stringContaining('is in use') as string })
  await stopped(first)
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
  await stopped(second)
}, 120_000)

it('an operator ends the sessions of one person, and of everybody', async () => {
  const PORT = String(await freePort())
  const first = await running({ PORT })
  const [ada, ben] = [new Visitor(first.base), new Visitor(first.base)]
  const open = async () => [(await ada.get('/account')).status, (await ben.get('/account')).status]
  const email = `stolen-${newId()}@example.org`
  await ada.signUp(email)
  await ben.signUp(`other-${newId()}@example.org`)
  expect(await open()).toEqual([200, 200])
  await stopped(first)
  expect(await endSessions()).toMatchObject({ code: 2, said: expect.stringContaining('Name the address') as string })
  const nobody = await endSessions('nobody@example.org')
  expect(nobody).toMatchObject({ code: 2, said: expect.stringContaining('No account has') as string })
  const one = await endSessions(email)
  expect(one).toMatchObject({ code: 0, said: expect.stringContaining('have ended: 1.') as string })
  const second = await running({ PORT })
  expect(await open()).toEqual([303, 200])
  await stopped(second)
  expect((await endSessions('--everybody')).code).toBe(0)
  await running({ PORT })
  expect(await open()).toEqual([303, 303])
}, 120_000)
