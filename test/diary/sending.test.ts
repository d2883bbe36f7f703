import { readFileSync } from 'node:fs'
import { runInNewContext } from 'node:vm'
import { expect, it } from 'vitest'

interface Sheet {
  readonly id: string
  readonly group: string
  readonly week: string
  readonly person: string
  readonly fields: readonly (readonly [string, string])[]
  readonly refused?: unknown
}

interface Said {
  readonly status: number
  readonly [name: string]: unknown
}

/** The script that sends what waits, on a device that keeps these sheets, before a service that answers so. */
function device(waiting: Sheet[], answerFor: (group: string) => Said) {
  const asked: string[] = []
  const answered = ({ status, ...said }: Said) => ({
    status,
    headers: { get: () => 'application/json' },
    json: async () => said,
  })
  const fetch = async (address: string, { body }: { body?: URLSearchParams }) => {
    if (address === '/who') return answered({ status: 200, person: 'ada', groups: [], token: 'token' })
    asked.push(String(body?.get('id')))
    return answered(answerFor(address.split('/')[2] ?? ''))
  }
  const kept = {
    waiting: async () => [...waiting],
    drop: async ({ id }: Sheet) => waiting.splice(0, waiting.length, ...waiting.filter((one) => one.id !== id)),
    change: async (sheet: Sheet) =>
      waiting.splice(0, waiting.length, ...waiting.map((one) => (one.id === sheet.id ? sheet : one))),
  }
  const script = readFileSync('views/scripts/16-sending.js', 'utf8')
  const known = { kept, fetch, navigator: {}, AbortSignal, URLSearchParams }
  const sending = runInNewContext(`${script};sending`, known) as {
    all(person: string): Promise<readonly { readonly sheet: Sheet; readonly kind: string }[]>
  }
  const send = async () => (await sending.all('ada')).map(({ sheet, kind }) => `${sheet.id} ${kind}`)
  return { send, asked, left: () => waiting.map(({ id }) => id) }
}

const sheet = (id: string, group: string): Sheet => ({ id, group, week: '2026-W05', person: 'ada', fields: [] })
const stored: Said = { status: 200, wrong: {}, told: '', onward: '/' }
const closed: Said = { status: 403, problem: 'factor-first', said: 'A passkey or a code first.' }

it('what is for a group that asks for a code first waits, and what is for others goes', async () => {
  let asks = true
  const waiting = [sheet('first', 'quern'), sheet('other', 'long'), sheet('second', 'quern')]
  const { send, asked, left } = device(waiting, (group) => (asks && group === 'quern' ? closed : stored))
  expect(await send()).toEqual(['first proof', 'other stored'])
  expect([asked, left()]).toEqual([
    ['first', 'other'],
    ['first', 'second'],
  ])
  expect(waiting.map(({ refused }) => refused)).toEqual([undefined, undefined])
  asks = false
  expect(await send()).toEqual(['first stored', 'second stored'])
  expect(left()).toEqual([])
})

it('nothing more is sent for anybody once its writer is signed out', async () => {
  const signedOut = { status: 401, problem: 'sign-in-first', said: '' }
  const { send, left } = device([sheet('first', 'quern'), sheet('other', 'long')], () => signedOut)
  expect(await send()).toEqual(['first signIn'])
  expect(left()).toEqual(['first', 'other'])
})

it('what may not be written is shown and kept, and what is behind it goes', async () => {
  const waiting = [sheet('first', 'quern'), sheet('other', 'long')]
  const refused = { status: 403, problem: 'recorders-only', said: 'Only recorders may.' }
  const { send, left } = device(waiting, (group) => (group === 'quern' ? refused : stored))
  expect(await send()).toEqual(['first refused', 'other stored'])
  expect([left(), waiting[0]?.refused]).toEqual([['first'], [['sheet', 'Only recorders may.']]])
})
