import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { firstOf } from '../../src/lookups/nth.ts'
import { preparedFolder } from '../support/folder.ts'
import type { OwnPostgres } from './postgres.ts'
import { freePort, start } from './service.ts'
import { checked, groundOf, perSheet, setUp, sheetOf, storedIn } from './sheets.ts'
import type { Visitor } from './visitor.ts'

export interface Asked {
  /** Entries in all: sheets of twenty weights and five lines of hours each. */
  readonly entries: number
  /** How often the service or the server is killed (kill -9) while they are sent. */
  readonly kills: number
  /** The address of a server; none for the built-in database. */
  readonly databaseUrl: string | undefined
  /** A server that may be killed itself: every other kill is its. */
  readonly server?: Pick<OwnPostgres, 'kill' | 'start'> | undefined
  /** The prepared database to begin on; where there is none, the service prepares its own. */
  readonly prepared?: string
}

export interface Found {
  readonly sheets: number
  readonly acknowledged: number
  /** Sheets that were on their way when the service was killed. */
  readonly cutOff: number
  /** Sheets that were cut off and never sent again, of which the answer is unknown; and those of them that are stored. */
  readonly abandoned: number
  readonly abandonedThere: number
  readonly wrong: readonly string[]
  readonly seconds: number
}

/**
 * Sends sheets from four devices at once to a service that is killed over and over. A device sends a sheet again, under the
 * same ids, until it is acknowledged; every fifth that was cut off is given up, as by a phone that is lost. Each weight and
 * each time is a number of its own, so that what is there twice or not at all shows by it.
 */
export async function sheetsUnderKills({ entries, kills, databaseUrl, server, prepared }: Asked): Promise<Found> {
  const folder = prepared ? preparedFolder(prepared) : mkdtempSync(join(tmpdir(), 'evenground-kills-'))
  const set = { EVENGROUND_DATA: folder, PORT: String(await freePort()) }
  const begin = async () => {
    const run = await start({ ...set, ...(databaseUrl ? { DATABASE_URL: databaseUrl } : {}) })
    await run.said(/is ready/)
    return run
  }
  const since = performance.now()
  const sheets = Math.ceil(entries / perSheet)
  const state = { run: await begin(), acknowledged: new Set<number>(), cutOff: 0, next: 0, wrong: [] as string[] }
  const abandoned = new Set<number>()
  try {
    const { slug, devices } = await setUp(state.run)
    const ground = await groundOf(firstOf(devices), slug)
    const write = async (device: Visitor) => {
      while (state.next < sheets) {
        const number = state.next++
        const sheet = sheetOf(number, ground)
        while (!state.acknowledged.has(number)) {
          const address = `/g/${slug}/weeks/${sheet.week}`
          const { sent, status, said } = await device.send<{ stored: string[] }>(address, sheet.fields)
          if (status === 200 && said?.stored.length === perSheet) state.acknowledged.add(number)
          else if (status === 503 && server) await pause(100)
          else if (status !== 0) {
            state.wrong.push(`sheet ${number}: ${status} ${JSON.stringify(said)}`)
            break
          } else if (sent && ++state.cutOff % 5 === 0) {
            abandoned.add(number)
            break
          } else await pause(100)
        }
      }
    }
    const writing = Promise.all(devices.map(write))
    for (let kill = 1; kill <= kills; kill++) {
      const enough = Math.floor((sheets * kill) / (kills + 1))
      while (state.acknowledged.size + abandoned.size < enough && state.wrong.length === 0) await pause(5)
      // At another moment of a save each time.
      await pause((kill * 17) % 60)
      if (server && kill % 2 === 0) {
        server.kill()
        server.start()
        continue
      }
      state.run.child.kill('SIGKILL')
      await state.run.ended
      state.run = await begin()
    }
    await writing
    state.run.child.kill('SIGTERM')
    await state.run.ended
    const stored = await storedIn(databaseUrl, folder)
    const there = checked({ sheets, stored, ...state, abandoned })
    return {
      ...{ sheets, acknowledged: state.acknowledged.size, cutOff: state.cutOff, wrong: state.wrong },
      ...{ abandoned: abandoned.size, abandonedThere: there },
      seconds: Math.round((performance.now() - since) / 1000),
    }
  } finally {
    state.run.child.kill('SIGKILL')
    await state.run.ended
    rmSync(folder, { recursive: true, force: true })
  }
}

const pause = (ms: number) => new Promise((resolve) => setTimeout(resolve, ms))
