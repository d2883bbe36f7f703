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

type Send = (person: string) => Promise<readonly { readonly sheet: Sheet; readonly kind: string }[]>

/** The script that sends what waits, on a device that keeps these sheets, before a service that answers so. */
function device(waiting: Sheet[], answerFor: (group: string) => Said, person = () => 'ada') {
  const asked: string[] = []
  const answered = ({ status, ...said }: Said) => ({
    status,
    headers: { get: () => 'application/json' },
    json: async () => said,
  })
  const fetch = async (address: string, { body }: { body?: URLSearchParams }) => {
    if (address === '/who') {
      asked.push('/who')
      return answered({ status: 200, person: person(), groups: [], token: 'token' })
    }
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
  const sending = runInNewContext(`${script};sending`, known) as Record<'all' | 'byClock', Send> & {
    rests(): { signIn: boolean; proof: boolean }
  }
  const said = (sent: Awaited<ReturnType<Send>>) => sent.map(({ sheet, kind }) => `${sheet.id} ${kind}`)
  const send = async () => said(await sending.all('ada'))
  const byClock = async () => said(await sending.byClock('ada'))
  const posted = () => asked.filter((one) => one !== '/who')
  return { send, byClock, rests: sending.rests, asked, posted, left: () => waiting.map(({ id }) => id) }
}

const sheet = (id: string, group: string): Sheet => ({ id, group, week: '2026-W05', person: 'ada', fields: [] })
const stored: Said = { status: 200, wrong: {}, told: '', onward: '/' }
const closed: Said = { status: 403, problem: 'factor-first', said: 'A passkey or a code first.' }

it('what is for a group that asks for a code first waits, and what is for others goes', async () => {
  let asks = true
  const waiting = [sheet('first', 'quern'), sheet('other', 'long'), sheet('second', 'quern')]
  const { send, posted, left } = device(waiting, (group) => (asks && group === 'quern' ? closed : stored))
  expect(await send()).toEqual(['first proof', 'other stored'])
  expect([posted(), left()]).toEqual([
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
  const { send, byClock, left } = device(waiting, (group) => (group === 'quern' ? refused : stored))
  expect(await send()).toEqual(['first refused', 'other stored'])
  expect([await byClock(), await send()]).toEqual([[], []])
  expect([left(), waiting[0]?.refused]).toEqual([['first'], [['sheet', 'Only recorders may.']]])
})

it('no clock tries again what waits for a code, until there is a reason, and what found no way it does', async () => {
  const answers: Record<string, Said> = { quern: closed, long: { status: 500, problem: 'went-wrong', said: '' } }
  const waiting = [sheet('first', 'quern'), sheet('other', 'long')]
  const { send, byClock, rests, posted, left } = device(waiting, (group) => answers[group] ?? stored)
  expect(await byClock()).toEqual(['first proof', 'other later'])
  expect(await byClock()).toEqual(['other later'])
  answers.long = stored
  expect(await byClock()).toEqual(['other stored'])
  expect([await byClock(), rests(), posted()]).toEqual([
    ...[[], { signIn: false, proof: true }, ['first', 'other', 'other', 'other']],
  ])
  expect(await send()).toEqual(['first proof'])
  answers.quern = stored
  expect(await byClock()).toEqual([])
  expect(await send()).toEqual(['first stored'])
  expect([left(), rests()]).toEqual([[], { signIn: false, proof: false }])
})

it('no clock asks anything once its writer is signed out, or somebody else is in', async () => {
  for (const other of ['', 'ben']) {
    let person = other
    const { send, byClock, rests, asked } = device(
      [sheet('first', 'quern')],
      () => stored,
      () => person,
    )
    expect(await send()).toEqual([other ? 'first other' : 'first signIn'])
    expect([await byClock(), await byClock(), rests().signIn, asked]).toEqual([[], [], true, ['/who']])
    person = 'ada'
    expect(await byClock()).toEqual([])
    expect(await send()).toEqual(['first stored'])
  }
})
