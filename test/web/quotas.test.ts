import { request } from 'node:http'
import type { AddressInfo } from 'node:net'
import sharp from 'sharp'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { newId } from '../../src/db/new-id.ts'
import { Turns } from '../../src/web/in-turn.ts'
import { writeReport } from '../reports/reports.ts'
import { type Client, openPlace, type Place } from '../support/app.ts'
import { plain } from '../support/page-checks.ts'
import { setUpTrial, type Trial } from '../support/trial.ts'

let place: Place
let trial: Trial
const noteId = newId()
const small = () =>
  sharp({ create: { width: 30, height: 20, channels: 3, background: '#287840' } })
    .jpeg()
    .toBuffer()
let jpeg: Buffer
beforeAll(async () => {
  jpeg = await small()
  const quotas = {
    picturesOfGroup: 1500,
    picturesOfAll: 2000,
    temporary: 20_000,
    filesOfPerson: 1,
    linksOfGroup: 2,
    waiting: 1,
    costly: 1,
  }
  place = await openPlace({ quotas })
  trial = await setUpTrial(place)
  await addNote(trial.keeper, trial.base, trial.gardens.lower)
})
afterAll(() => place.close())

async function addNote(keeper: Client, base: string, garden: string | undefined) {
  const note = { id: noteId, place: `garden:${garden}`, seenOn: '2025-11-11', kind: 'weed', severity: '' }
  expect((await keeper.post(`${base}/notes/notes`, { ...note, words: 'Couch grass.' })).status).toBe(303)
}

const send = (bytes: Buffer, of = trial) =>
  of.keeper.upload(`${of.base}/notes/pictures`, { id: newId(), noteId, caption: 'x' }, { name: 'x.jpg', bytes })

it('a group keeps so many bytes of pictures, and all groups together so many', async () => {
  const statuses: number[] = []
  while (statuses.at(-1) !== 422 && statuses.length < 10) statuses.push((await send(jpeg)).status)
  expect([statuses[0], statuses.at(-1)]).toEqual([303, 422])
  expect(plain((await send(jpeg)).text)).toContain('There is no room for more pictures')
  const other = await setUpTrial(place)
  await addNote(other.keeper, other.base, other.gardens.lower)
  const theirs: number[] = []
  while (theirs.at(-1) !== 422 && theirs.length < 10) theirs.push((await send(jpeg, other)).status)
  expect(theirs.at(-1)).toBe(422)
  expect(theirs.length).toBeLessThan(statuses.length)
})

/** A file of the keeper of which the second half waits until `rest` is called; gives the status of the answer. */
async function halfSent() {
  const page = (await trial.keeper.get(`${trial.base}/notes`)).text
  const _csrf = /name="_csrf" value="([^"]+)"/.exec(page)?.[1]
  const parts = Object.entries({ _csrf, id: newId(), noteId, caption: 'x' }).map(
    ([name, value]) => `--half\r\nContent-Disposition: form-data; name="${name}"\r\n\r\n${value}\r\n`,
  )
  const head = `${parts.join('')}--half\r\nContent-Disposition: form-data; name="file"; filename="x.jpg"\r\n\r\n`
  const [begun, left] = [`${head}${'x'.repeat(1500)}`, `${'x'.repeat(1500)}\r\n--half--\r\n`]
  const { port } = place.app.server.address() as AddressInfo
  const sending = request(`http://127.0.0.1:${port}${trial.base}/notes/pictures`, {
    method: 'POST',
    headers: {
      'Content-Type': 'multipart/form-data; boundary=half',
      'Content-Length': begun.length + left.length,
      Origin: 'http://127.0.0.1',
      Host: '127.0.0.1',
      Cookie: trial.keeper.cookieHeader(),
    },
  })
  const answered = new Promise<number | undefined>((done) => {
    sending.once('response', (answer) => done(answer.resume().statusCode))
  })
  sending.write(begun)
  return {
    rest: () => {
      sending.end(left)
      return answered
    },
  }
}

it('what is on its way in takes so much room, and one person sends so many files at once', async () => {
  expect((await send(Buffer.alloc(30_000))).status).toBe(429)
  expect((await send(Buffer.alloc(3000))).status).toBe(422)
  const first = await halfSent()
  const others: number[] = []
  while (others.at(-1) !== 429 && others.length < 100) others.push((await send(Buffer.alloc(3000))).status)
  expect(others.at(-1)).toBe(429)
  expect(await first.rest()).toBe(422)
  expect((await send(Buffer.alloc(3000))).status).toBe(422)
})

it('a group has so many links open, also where two are made at once; one that is revoked makes room', async () => {
  const { id } = await writeReport(trial)
  const make = () => trial.keeper.post(`${trial.base}/reports/${id}/links`, { endsOn: '', passphrase: '' })
  expect((await make()).status).toBe(200)
  const both = await Promise.all([make(), make()])
  expect(both.map(({ status }) => status).sort()).toEqual([200, 422])
  const refused = both.find(({ status }) => status === 422)?.text ?? ''
  expect(plain(refused)).toContain('This group has 2 links that are open, as many as it may have.')
  const revoke = refused.match(/\/links\/[0-9a-f-]{36}\/revoke/g) ?? []
  expect(revoke).toHaveLength(2)
  expect((await trial.keeper.post(`${trial.base}/reports/${id}${revoke[0]}`)).status).toBe(303)
  expect((await make()).status).toBe(200)
  expect((await make()).status).toBe(422)
})

describe('what takes long is made in turn', () => {
  it('a few at a time, and of one group only so many wait', async () => {
    const turns = new Turns(2, 2)
    const [first, second] = [await turns.take('a'), await turns.take('a')]
    const came: string[] = []
    const wait = async (name: string, group: string) => {
      const end = await turns.take(group)
      came.push(name)
      return end
    }
    const waiting = [wait('third', 'a'), wait('fourth', 'a'), wait('other', 'b')]
    expect(await turns.take('a')).toBeNull()
    await new Promise((done) => setImmediate(done))
    expect(came).toEqual([])
    first?.()
    first?.()
    const third = await waiting[0]
    expect(came).toEqual(['third'])
    second?.()
    await waiting[2]
    expect(came).toEqual(['third', 'other'])
    third?.()
    await waiting[1]
    expect(came).toEqual(['third', 'other', 'fourth'])
  })

  it('others are answered while a crowd waits, whoever is one too many is told, and none is stuck', async () => {
    const ask = () => trial.keeper.get(`${trial.base}/compare.json?season=all`)
    const crowd = Promise.all(Array.from({ length: 12 }, ask))
    expect((await place.guest().get('/sign-in')).status).toBe(200)
    const statuses = (await crowd).map(({ status }) => status)
    expect(statuses).toContain(200)
    expect(statuses.filter((status) => ![200, 429].includes(status))).toEqual([])
    expect((await ask()).status).toBe(200)
  })

  it('whoever may not open the page takes no turn', async () => {
    const stranger = await place.keeper()
    for (let i = 0; i < 5; i++) expect((await stranger.get(`${trial.base}/compare`)).status).toBe(404)
    expect((await trial.keeper.get(`${trial.base}/compare`)).status).toBe(200)
  })
})

it('whole exports are counted by person', async () => {
  const keeper = await place.keeper()
  const statuses: number[] = []
  for (let i = 0; i < 21; i++) statuses.push((await keeper.get(`/g/${keeper.slug}/exchange/export.zip`)).status)
  expect([statuses[0], statuses[19], statuses[20]]).toEqual([200, 200, 429])
})

it('invitations are counted by group where they are made, and by place where they lead nowhere', async () => {
  const keeper = await place.keeper()
  const made: number[] = []
  for (let i = 0; i < 61; i++)
    made.push((await keeper.post(`/g/${keeper.slug}/people/invitations`, { role: 'reader' })).status)
  expect([made[59], made[60]]).toEqual([200, 429])
  const stranger = place.guest()
  stranger.forwardedFor = '203.0.113.77'
  const guessed: number[] = []
  for (let i = 0; i < 61; i++) guessed.push((await stranger.get(`/invitations/guess-${i}`)).status)
  expect([guessed[59], guessed[60]]).toEqual([404, 429])
})
