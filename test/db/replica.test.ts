import type { SQL } from 'drizzle-orm'
import { PgDialect } from 'drizzle-orm/pg-core'
import { describe, expect, it } from 'vitest'
import type { Database, Tx } from '../../src/db/database.ts'
import { type ReadFrom, Replica, readingEither } from '../../src/db/replica.ts'

interface Standing {
  changes: number
  recovering: boolean
  cluster: string
  /** Thrown before anything is said, and by what is read after that. */
  gone?: Error
  breaks?: Error
  /** Does not say which cluster it is. */
  closed?: boolean
  /** Never answers. */
  silent?: boolean
}

const atOf = new WeakMap<object, Standing>()

/** A server that says where it stands, and is asked nothing else. */
function server(at: Standing): Database {
  const execute = async (asked: SQL) => {
    const text = new PgDialect().sqlToQuery(asked).sql
    if (at.closed && text.includes('pg_control_system')) throw Object.assign(new Error('denied'), { code: '42501' })
    return { rows: [{ recovering: at.recovering, id: at.cluster }] }
  }
  const transaction = async <T>(work: (tx: Tx) => Promise<T>) => {
    if (at.gone) throw at.gone
    if (at.silent) return new Promise<T>(() => undefined)
    const tx = { execute } as unknown as Tx
    atOf.set(tx, at)
    return work(tx)
  }
  return { kind: 'server', transaction } as unknown as Database
}

function pair(of: Partial<Standing> = {}, msOfPause = 60_000) {
  const primary: Standing = { changes: 7, recovering: false, cluster: '42' }
  const standby: Standing = { changes: 7, recovering: true, cluster: '42', ...of }
  const replica = new Replica(server(standby), { msToSay: 50, msOfPause })
  const from: ReadFrom[] = []
  const told: unknown[] = []
  replica.onRead = (one) => from.push(one)
  replica.onTrouble = (trouble) => told.push(trouble)
  const who = { personId: null, groupId: 'quern', readOnly: true, snapshot: true } as const
  const standsAt = (tx: Tx) => atOf.get(tx) ?? primary
  const read = (work = async (tx: Tx) => (standsAt(tx) === standby ? 'replica' : 'primary')) =>
    readingEither(
      { primary: server(primary), replica, who, counted: async (tx) => standsAt(tx).changes },
      async (tx) => {
        const { breaks } = standsAt(tx)
        if (breaks) throw breaks
        return work(tx)
      },
    )
  return { primary, standby, read, from, told }
}

const refused = Object.assign(new Error('refused'), { code: 'ECONNREFUSED' })
const cancelled = Object.assign(new Error('cancelled'), { code: '57014' })
const lost = new Error('Connection terminated unexpectedly')

describe('what may be read from a replica is read there', () => {
  it('where it has counted exactly as far as the primary', async () => {
    const { read, from } = pair()
    expect(await read()).toBe('replica')
    expect(from).toEqual(['replica'])
  })

  it('without one, of the primary', async () => {
    const { primary } = pair()
    const who = { personId: null, groupId: 'quern', readOnly: true, snapshot: true } as const
    const read = { primary: server(primary), replica: null, who, counted: async () => 7 }
    expect(await readingEither(read, async () => 'primary')).toBe('primary')
  })

  it.each([
    ['is behind', { changes: 6 }],
    ['shows already what the primary shows in a moment', { changes: 8 }],
    ['was promoted', { recovering: false }],
    ['is of another cluster', { cluster: '43' }],
  ])('but not where it %s, and is asked again the next time', async (_what, of) => {
    const { read, from, told, standby } = pair(of)
    expect(await read()).toBe('primary')
    expect([from, told]).toEqual([['primary: behind'], []])
    Object.assign(standby, { changes: 7, recovering: true, cluster: '42' })
    expect(await read()).toBe('replica')
  })

  it.each([
    ['cannot be reached', { gone: refused }],
    ['lets nobody in', { gone: Object.assign(new Error('no'), { code: '28P01' }) }],
    ['does not say where it stands', { silent: true }],
    ['is lost in the middle', { breaks: lost }],
  ])('but not where it %s: said once, and it is given a rest', async (_what, of) => {
    const { read, from, told, standby } = pair(of)
    expect([await read(), await read()]).toEqual(['primary', 'primary'])
    Object.assign(standby, { gone: undefined, breaks: undefined, silent: false })
    expect(await read()).toBe('primary')
    expect(from).toEqual(['primary: no answer'])
    expect(told).toHaveLength(1)
  })

  it('once it has had its rest, and that is said', async () => {
    const { read, told, standby } = pair({ gone: refused }, 20)
    await read()
    await new Promise((done) => setTimeout(done, 30))
    expect(await read()).toBe('primary')
    delete standby.gone
    await new Promise((done) => setTimeout(done, 30))
    expect(await read()).toBe('replica')
    expect(told).toEqual([refused, null])
  })

  it('a statement that it cancels alone is asked of the primary, and the next of it again', async () => {
    const { read, standby, told } = pair({ breaks: cancelled })
    expect(await read()).toBe('primary')
    delete standby.breaks
    expect([await read(), told]).toEqual(['replica', []])
  })

  it('what is read itself may say no, and is not asked twice', async () => {
    const { read } = pair()
    let times = 0
    const work = async () => {
      times += 1
      throw new RangeError('not there')
    }
    await expect(read(work)).rejects.toThrow('not there')
    expect(times).toBe(1)
  })

  it('and not where the primary may not say which cluster it is: that is said once', async () => {
    const { read, primary, from, told } = pair()
    primary.closed = true
    expect([await read(), await read()]).toEqual(['primary', 'primary'])
    expect([from, told.length]).toEqual([['primary: no answer'], 1])
  })

  it('and nothing where the primary does not answer', async () => {
    const { read, primary } = pair()
    primary.gone = refused
    await expect(read()).rejects.toThrow('refused')
  })
})
