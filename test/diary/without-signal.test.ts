import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { newId } from '../../src/db/new-id.ts'
import { openPlace, type Place } from '../support/app.ts'
import { plantingOf, setUpTrial, type Trial } from '../support/trial.ts'

let place: Place
let trial: Trial
let person = ''
beforeAll(async () => {
  place = await openPlace()
  trial = await setUpTrial(place)
  person = (await trial.keeper.json<{ person: string }>('/who')).person
})
afterAll(() => place.close())

interface Answered {
  readonly stored: string[]
  readonly wrong: Record<string, string>
  readonly problem: string
  readonly told: string
  readonly onward: string
}

const at = () => `${trial.base}/weeks/2026-W05`
const carrot = (garden: string) => plantingOf(trial, 'carrot', garden)
const weight = (good: string) => ({ id: newId(), person, w: { [carrot('Lower')]: { good } } })

describe('what waited for a signal', () => {
  it('is stored once however often it is sent, and answered with what to show next', async () => {
    const sheet = weight('2.25')
    for (let sent = 0; sent < 2; sent++) {
      const { status, said } = await trial.keeper.ask<Answered>(at(), sheet)
      expect({ status, wrong: said.wrong, stored: said.stored, told: said.told }).toEqual({
        ...{ status: 200, wrong: {}, stored: [`w[${carrot('Lower')}]`] },
        told: 'Saved: Lower Terrace 2.250 kg.',
      })
      expect(said.onward).toMatch(/^\/g\/[\w-]+\/weeks\/2026-W05\?/)
    }
    expect((await trial.keeper.get(at())).text.match(/>2\.25<span/g)).toHaveLength(1)
  })

  it('says by cell what is not taken, and stores the others', async () => {
    const cells = { [carrot('Lower')]: { good: 'three crates' }, [carrot('Long')]: { good: '3.5' } }
    const { status, said } = await trial.keeper.ask<Answered>(at(), { id: newId(), person, w: cells })
    expect(status).toBe(422)
    expect(said.stored).toEqual([`w[${carrot('Long')}]`])
    expect(Object.keys(said.wrong)).toEqual([`w[${carrot('Lower')}]`])
  })

  it('is never taken for another person signed in on the same device', async () => {
    const other = await place.joined(trial.keeper, 'recorder')
    const { status, said } = await other.ask<Answered>(at(), weight('7.75'))
    expect([status, said.problem]).toEqual([409, 'other-person'])
    expect((await trial.keeper.get(at())).text).not.toContain('7.75')
  })

  it('hears why, where its writer is signed out, may no longer write, or is in the group no more', async () => {
    const reader = await place.joined(trial.keeper, 'reader')
    const stranger = await place.person('Nobody Here')
    const answers = await Promise.all(
      [place.guest(), reader, stranger].map(
        async (one) => (await one.ask<Answered>(at(), weight('7.75'))).said.problem,
      ),
    )
    expect(answers).toEqual(['sign-in-first', 'recorders-only', 'not-found'])
  })
})

describe('the page that a device keeps', () => {
  it('is of nobody, and its files are there under the strict rules of every page', async () => {
    const worker = await trial.keeper.get('/week-worker.js')
    const files = JSON.parse(/const files = (\[.*\])/.exec(worker.text)?.[1] ?? '[]') as string[]
    expect(files).toHaveLength(6)
    for (const file of files) expect((await place.guest().get(file)).status).toBe(200)
    const shell = await trial.keeper.get('/week-kept')
    expect(shell.text).not.toContain(trial.base)
    expect(shell.headers['content-security-policy']).toContain("script-src 'self'")
    expect(shell.headers['set-cookie']).toBeUndefined()
  })

  it('can be put among the programs of a phone, under marks of its own', async () => {
    const manifest = await trial.keeper.json<{ start_url: string; icons: { src: string; sizes: string }[] }>(
      '/manifest.webmanifest',
    )
    expect(manifest.icons.map(({ sizes }) => sizes)).toEqual(['192x192', '512x512', 'any'])
    for (const { src } of manifest.icons) expect((await place.guest().get(src)).status).toBe(200)
    expect((await trial.keeper.get(manifest.start_url)).location).toBe(`${trial.base}/weeks`)
  })

  it('holds all that stands, whether it is due or not', async () => {
    const before = await trial.keeper.get(`${trial.base}/weeks/2026-W20`)
    const whole = await trial.keeper.get(`${trial.base}/weeks/2026-W20?rows=all`)
    const rows = (html: string) => html.match(/data-weight/g)?.length ?? 0
    expect(rows(whole.text)).toBeGreaterThanOrEqual(rows(before.text))
    expect(whole.text).not.toContain('more stand')
  })
})
