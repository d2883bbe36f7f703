import { execFile, execFileSync } from 'node:child_process'
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import type { AddressInfo } from 'node:net'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { promisify } from 'node:util'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { newId } from '../../src/db/new-id.ts'
import { rowTableNames } from '../../src/reports/row-tables.ts'
import { sectionKeys } from '../../src/reports/sections.ts'
import { type Client, openPlace, type Place } from '../support/app.ts'

const run = promisify(execFile)
const hasR = (() => {
  try {
    execFileSync('Rscript', ['--version'], { stdio: 'ignore' })
    return true
  } catch {
    return false
  }
})()

let place: Place
let keeper: Client
let base: string
let folder: string
beforeAll(async () => {
  folder = mkdtempSync(join(tmpdir(), 'evenground-recompute-'))
  place = await openPlace()
  keeper = await place.person()
  base = (await keeper.post('/demo/copy')).location
})
afterAll(async () => {
  await place.close()
  rmSync(folder, { recursive: true, force: true })
})

async function shared(season: string, given: Record<string, string> = { rowsAgreed: 'yes' }): Promise<string> {
  const id = newId()
  const fields = { id, title: 'Counted again', words: '', season, sections: [...sectionKeys], keeps: 'frozen' }
  await keeper.post(`${base}/reports`, { ...fields, step: 'finish', ...given })
  const page = await keeper.post(`${base}/reports/${id}/links`, { endsOn: '', passphrase: '' })
  return /\/r\/[\w-]+/.exec(page.text)?.[0] ?? ''
}

async function seasonsOf(): Promise<string[]> {
  const page = (await keeper.get(`${base}/compare`)).text
  return [...new Set([...page.matchAll(/compare\?season=([0-9a-f-]{36})/g)].map((found) => found[1] ?? ''))]
}

/** Rows of numbers and plain names: no cell of these tables holds a comma but the crop, which is quoted. */
const cellsOf = (csv: string) =>
  csv
    .trim()
    .split(/\r?\n/)
    .slice(1)
    .map((line) => [...line.matchAll(/"([^"]*)"|([^,]+)|(?<=,)(?=,|$)/g)].map((cell) => cell[1] ?? cell[2] ?? ''))

interface Figures {
  readonly methods: readonly {
    methodId: string
    method: string
    figures: readonly { key: string; value: number | null; limit: string | null }[]
  }[]
  readonly matched: readonly { crop: string; byMethod: readonly { methodId: string; kgPerM2: number }[] }[]
  readonly commonMix: readonly { methodId: string; kgPerM2: number }[]
}

/** What the JSON says, by what, row and method. */
function saidIn({ methods, matched, commonMix }: Figures): Map<string, [number | null, string]> {
  const name = (id: string) => methods.find((one) => one.methodId === id)?.method ?? ''
  return new Map([
    ...methods.flatMap(({ method, figures }) =>
      figures.map((one): [string, [number | null, string]] => [
        `figure|${one.key}|${method}`,
        [one.value, one.limit ?? ''],
      ]),
    ),
    ...[...matched, { crop: 'common mix', byMethod: commonMix }].flatMap(({ crop, byMethod }) =>
      byMethod.map((one): [string, [number | null, string]] => [
        `matched|${crop}|${name(one.methodId)}`,
        [one.kgPerM2, ''],
      ]),
    ),
  ])
}

it('the rows go out only where the keeper ticked it, and no name of a person is in them', async () => {
  const [, second = ''] = await seasonsOf()
  const without = await shared(second, {})
  const guest = place.guest()
  for (const name of rowTableNames) expect((await guest.get(`${without}/rows.csv?table=${name}`)).status).toBe(404)
  expect((await guest.get(`${without}/recompute.R`)).status).toBe(404)
  const agreed = await shared(second)
  for (const name of rowTableNames) {
    const answer = await guest.get(`${agreed}/rows.csv?table=${name}`)
    expect([name, answer.status]).toEqual([name, 200])
    expect(answer.text.split('\r\n').length).toBeGreaterThan(2)
    expect(answer.text).not.toMatch(/Ada Rook|person_id|created_by|who/)
  }
  expect((await guest.get(`${agreed}/rows.csv?table=people`)).status).toBe(404)
})

describe.skipIf(!hasR)('with R at hand (Rscript is not on every machine)', () => {
  it.each([[0], [1], [2], ['all']] as const)(
    'whoever runs the script on the rows of season %s of the demo finds every figure of the report',
    async (which) => {
      const season = which === 'all' ? 'all' : ((await seasonsOf())[which] ?? '')
      const link = await shared(season)
      const guest = place.guest()
      const { figures } = await guest.json<{ figures: Figures }>(`${link}.json`)
      const { port } = place.app.server.address() as AddressInfo
      const script = (await guest.get(`${link}/recompute.R`)).text.replace(/127\.0\.0\.1:\d+/, `127.0.0.1:${port}`)
      const file = join(folder, `${newId()}.R`)
      writeFileSync(file, script)
      const { stdout, stderr } = await run('Rscript', ['--vanilla', file], { timeout: 120_000 })
      const said = saidIn(figures)
      const again = cellsOf(stdout)
      expect(again.length).toBe(said.size)
      expect(again.length).toBeGreaterThan(45)
      for (const [what, row, method, value, limit] of again) {
        const [expected, itsLimit] = said.get(`${what}|${row}|${method}`) ?? [Number.NaN, '?']
        expect([row, method, limit]).toEqual([row, method, itsLimit])
        if (expected === null) expect(value).toBe('')
        else expect(Math.abs(Number(value) - expected)).toBeLessThan(1e-9)
      }
      expect(stderr).toContain(`${again.length} figures counted again`)
    },
    180_000,
  )

  it('and the script says so where a figure of the report is not what the rows give', async () => {
    const link = await shared('all')
    const guest = place.guest()
    for (const name of rowTableNames) {
      writeFileSync(join(folder, `${name}.csv`), (await guest.get(`${link}/rows.csv?table=${name}`)).text)
    }
    const methods = (await guest.get(`${link}.csv?table=methods`)).text
    writeFileSync(join(folder, 'figures-matched-crops.csv'), (await guest.get(`${link}.csv?table=matched-crops`)).text)
    const file = join(folder, 'recompute.R')
    writeFileSync(file, (await guest.get(`${link}/recompute.R`)).text)
    const counted = () => run('Rscript', ['--vanilla', file, folder], { timeout: 120_000 })
    writeFileSync(join(folder, 'figures-methods.csv'), methods)
    await expect(counted()).resolves.toBeDefined()
    const flattered = methods.replace(
      /(marketablePerBed,kg\/m2,)(\d+)/,
      (_, start, whole) => `${start}${Number(whole) + 1}`,
    )
    expect(flattered).not.toBe(methods)
    writeFileSync(join(folder, 'figures-methods.csv'), flattered)
    await expect(counted()).rejects.toMatchObject({ code: 1, stderr: expect.stringMatching(/largest difference 1;/) })
  }, 180_000)
})
