import { afterAll, describe, expect, it } from 'vitest'
import { newId } from '../../src/db/new-id.ts'
import { readSettings } from '../../src/settings.ts'
import { onServer } from '../support/server.ts'
import { freePort, type Run, start as startService } from './service.ts'

const server = process.env.TEST_DATABASE_URL
const runs: Run[] = []
const names: string[] = []
afterAll(async () => {
  // A first process that is killed takes the others with it.
  for (const run of runs) run.child.kill('SIGKILL')
  for (const name of names) await onServer(server ?? '', `drop database if exists ${name} with (force)`)
})

async function start(set: Record<string, string>): Promise<Run> {
  const run = await startService(set, 'cluster')
  runs.push(run)
  return run
}

async function emptyDatabase(): Promise<string> {
  const name = `evenground_test_${newId().replaceAll('-', '')}`
  await onServer(server ?? '', `create database ${name}`)
  names.push(name)
  const url = new URL(server ?? '')
  url.pathname = `/${name}`
  return url.href
}

const pidsSaid = (run: Run) => [...run.output().matchAll(/Process (\d+) answers/g)].map((found) => Number(found[1]))
const isThere = (pid: number) => {
  try {
    return process.kill(pid, 0)
  } catch {
    return false
  }
}

it('several processes on the built-in database are refused in a sentence', async () => {
  const run = await start({})
  expect(await run.ended).toBe(2)
  expect(run.output()).toContain('the built-in database is of one process alone')
})

it('how many they are is set, and is a number of processes', () => {
  expect(readSettings({ EVENGROUND_PROCESSES: '3' })).toMatchObject({ settings: { processes: 3 } })
  const sentences = ['EVENGROUND_PROCESSES: write a number from 1 to 64.']
  expect(readSettings({ EVENGROUND_PROCESSES: '0' })).toEqual({ kind: 'refused', sentences })
  expect(readSettings({ EVENGROUND_PROCESSES: '65' })).toEqual({ kind: 'refused', sentences })
})

describe.skipIf(!server)('several processes on a server', () => {
  it('answer on one port, one that is killed is followed by another, and all end on SIGTERM', async () => {
    const metrics = await freePort()
    const set = { EVENGROUND_PROCESSES: '2', EVENGROUND_METRICS_PORT: String(metrics) }
    const run = await start({ ...set, DATABASE_URL: await emptyDatabase() })
    await run.said(/answers: 2 of 2/)
    const [first = 0, second = 0] = pidsSaid(run)
    expect(first).not.toBe(second)
    const asked = 8
    // Each on a connection of its own: those are handed to the processes in turn.
    for (let i = 0; i < asked; i++)
      expect((await fetch(`${run.base}/health`, { headers: { connection: 'close' } })).status).toBe(200)
    const counted = await (await fetch(`http://127.0.0.1:${metrics}/metrics`)).text()
    expect(counted).toContain(`evenground_request_seconds_count{method="GET",route="/health",status="200"} ${asked}`)

    process.kill(first, 'SIGKILL')
    await run.said(new RegExp(`Process ${first} ended \\(SIGKILL\\); another follows`))
    expect((await fetch(`${run.base}/ready`)).status).toBe(200)
    await run.said(/answers: 2 of 2[\s\S]*answers: 2 of 2/)
    expect(isThere(first)).toBe(false)

    const last = pidsSaid(run).slice(1)
    expect(last).toHaveLength(2)
    run.child.kill('SIGTERM')
    expect(await run.ended).toBe(0)
    expect(last.filter(isThere)).toEqual([])
  }, 120_000)

  it('end where not one of them can begin', async () => {
    const first = await start({ EVENGROUND_PROCESSES: '2', DATABASE_URL: await emptyDatabase() })
    await first.said(/answers: 2 of 2/)
    const port = new URL(first.base).port
    const second = await start({ EVENGROUND_PROCESSES: '2', DATABASE_URL: await emptyDatabase(), PORT: port })
    expect(await second.ended).toBe(2)
    expect(second.output()).toContain('EADDRINUSE')
    first.child.kill('SIGTERM')
    expect(await first.ended).toBe(0)
  }, 120_000)
})
