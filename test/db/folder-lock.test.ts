import { type ChildProcess, fork } from 'node:child_process'
import { mkdtempSync, rmSync } from 'node:fs'
import { hostname, tmpdir } from 'node:os'
import { join } from 'node:path'
import { buildSync } from 'esbuild'
import { afterAll, afterEach, expect, it } from 'vitest'
import { lockFolder } from '../../src/db/folder-lock.ts'

const folders: string[] = []
const racers: ChildProcess[] = []
afterEach(() => {
  for (const racer of racers.splice(0)) racer.kill('SIGKILL')
  for (const folder of folders.splice(0)) rmSync(folder, { recursive: true, force: true })
})

const built = mkdtempSync(join(tmpdir(), 'evenground-racer-'))
const racerFile = join(built, 'racer.mjs')
buildSync({ entryPoints: ['test/db/racer.ts'], outfile: racerFile, bundle: true, platform: 'node', format: 'esm' })
afterAll(() => rmSync(built, { recursive: true }))

function newFolder(): string {
  const folder = mkdtempSync(join(tmpdir(), 'evenground-lock-'))
  folders.push(folder)
  return folder
}

const next = (child: ChildProcess) =>
  new Promise<string>((resolve) => child.once('message', (said) => resolve(String(said))))

async function newRacer(folder: string): Promise<ChildProcess> {
  const racer = fork(racerFile, [folder])
  racers.push(racer)
  await next(racer)
  return racer
}

async function tries(racer: ChildProcess): Promise<string> {
  const said = next(racer)
  racer.send('go')
  return said
}

async function killed(racer: ChildProcess): Promise<void> {
  const gone = new Promise((resolve) => racer.once('exit', resolve))
  racer.kill('SIGKILL')
  await gone
}

it('of six that race for a folder whose owner was killed, one has it, every time', async () => {
  for (let round = 0; round < 8; round++) {
    const folder = newFolder()
    const owner = await newRacer(folder)
    expect(await tries(owner)).toBe('answer')
    await killed(owner)
    const six = await Promise.all(Array.from({ length: 6 }, () => newRacer(folder)))
    const answers = await Promise.all(six.map(tries))
    expect(answers.filter((answer) => answer === 'answer')).toHaveLength(1)
    await Promise.all(six.map(killed))
  }
}, 120_000)

it('the one who is refused is told who has it, and gets it when it is let go', async () => {
  const folder = newFolder()
  const owner = await newRacer(folder)
  await tries(owner)
  expect(await lockFolder(folder)).toEqual({ kind: 'refused', owner: `the process ${owner.pid} on ${hostname()}` })
  await killed(owner)
  const lock = await lockFolder(folder)
  expect(lock.kind).toBe('answer')
  if (lock.kind === 'answer') lock.release()
  expect(await tries(await newRacer(folder))).toBe('answer')
})

it('one that is halted still has it, though it does not answer', async () => {
  const folder = newFolder()
  const owner = await newRacer(folder)
  expect(await tries(owner)).toBe('answer')
  owner.kill('SIGSTOP')
  expect(await lockFolder(folder)).toEqual({ kind: 'refused', owner: null })
  owner.kill('SIGCONT')
  await killed(owner)
  expect((await lockFolder(folder)).kind).toBe('answer')
})
