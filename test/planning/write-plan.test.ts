import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { newId } from '../../src/db/new-id.ts'
import { assumedSpreads, chanceToSee } from '../../src/planning/plan.ts'
import { proposalOf } from '../../src/planning/proposal.ts'
import { type Answer, openPlace, type Place } from '../support/app.ts'
import { plain } from '../support/page-checks.ts'
import { choicesIn, setUpTrial, type Trial } from '../support/trial.ts'

describe('a proposal', () => {
  const plan = { kind: 'gardens', n: 3, crops: 8, seasons: 1, methods: 2, pairs: 1 } as const
  it('is the layout of the same ground that shows the difference soonest, four times in five', () => {
    const found = proposalOf(plan, 1.5, assumedSpreads)
    if (!found) throw new Error('no proposal')
    // Three gardens a method are six that hold both.
    expect(found.plan).toMatchObject({ kind: 'split gardens', n: 6 })
    expect(found.chance).toBeGreaterThanOrEqual(0.8)
    expect(chanceToSee(1.5, found.plan, assumedSpreads)).toBe(found.chance)
    const sooner = { ...found.plan, seasons: found.plan.seasons - 1 }
    expect(sooner.seasons === 0 || (chanceToSee(1.5, sooner, assumedSpreads) ?? 0) < 0.8).toBe(true)
  })

  it('is none where no layout of the ground can, and never two plots alone', () => {
    expect(proposalOf({ ...plan, n: 2 }, 1.02, assumedSpreads)).toBeNull()
    expect(proposalOf({ ...plan, kind: 'one garden', n: 1 }, 3, assumedSpreads)?.plan.kind).not.toBe('one garden')
  })
})

describe('written into a season', () => {
  let place: Place
  let trial: Trial
  const next = newId()
  const at = () => `${trial.base}/decide/next-season`
  beforeAll(async () => {
    place = await openPlace()
    trial = await setUpTrial(place)
  })
  afterAll(() => place.close())
  const methods = async () => choicesIn((await trial.keeper.get(at())).text)('referenceId')
  const given = async (more: Record<string, string> = {}) => {
    const { 'Dug every spring': referenceId = '', 'Compost mulch': method = '' } = await methods()
    return { seasonId: next, referenceId, methods: method, kind: 'split gardens', seasons: '2', matters: '25', ...more }
  }

  /** The form that takes back what was just saved, from the page that follows it. */
  const undoAfter = async (saved: Answer): Promise<Record<string, string>> => {
    const form = (await trial.keeper.get(saved.location)).text.split('/undo"')[1]?.split('</form>')[0] ?? ''
    const fields = [...form.matchAll(/name="(first|last|back)" value="([^"]*)"/g)].map(([, name, value]) => [
      name,
      value,
    ])
    expect(fields).toHaveLength(3)
    return Object.fromEntries(fields) as Record<string, string>
  }

  it('asks for a season that is still to come', async () => {
    expect(plain((await trial.keeper.get(at())).text)).toContain('No season is still to come')
    const year = { id: next, name: '2035', startsOn: '2035-03-01', endsOn: '2035-11-30' }
    expect((await trial.keeper.post(`${trial.base}/seasons`, year)).status).toBe(303)
    expect(Object.values(choicesIn((await trial.keeper.get(at())).text)('seasonId'))).toEqual([next])
    const begun = await trial.keeper.post(at(), await given({ seasonId: trial.season }))
    expect([begun.status, plain(begun.text).includes('This season has begun')]).toEqual([422, true])
    const { referenceId = '' } = await given()
    const itself = await trial.keeper.post(at(), await given({ methods: referenceId }))
    expect([itself.status, plain(itself.text).includes('A method is not compared with itself')]).toEqual([422, true])
    const blank = await trial.keeper.post(at(), await given({ methods: '', referenceId: '' }))
    expect(blank.status).toBe(422)
    for (const name of ['methods', 'referenceId']) expect(blank.text).toContain(`id="f-${name}-w-error"`)
    expect((await trial.keeper.post(at(), await given({ kind: 'blocks of beds' }))).status).toBe(422)
  })

  it('lays it out by a draw and drafts the question of that pair, in one step', async () => {
    const done = await trial.keeper.post(at(), await given())
    expect(done.status).toBe(303)
    const layout = plain((await trial.keeper.get(`${trial.base}/seasons/${next}/layout`)).text)
    for (const garden of ['Lower Terrace', 'Long Bank']) expect(layout).toContain(garden)
    expect(layout).toMatch(/drawn|at random/)
    const question = (await trial.keeper.get(`${trial.base}/seasons/${next}/question`)).text
    expect(plain(question)).toContain('Is the weight a m² another under Compost mulch than under Dug every spring?')
    expect(question).toMatch(/name="marginPercent"[^>]*value="25"/)
    expect(question).toMatch(/name="seasonsToLookAt"[^>]*value="2"/)
    expect(plain(question)).not.toContain('It never changes again')
  })

  it('is taken back whole by one undo', async () => {
    const later = { id: newId(), name: '2036', startsOn: '2036-03-01', endsOn: '2036-11-30' }
    await trial.keeper.get((await trial.keeper.post(`${trial.base}/seasons`, later)).location)
    const page = async (of: string) => plain((await trial.keeper.get(`${trial.base}/seasons/${later.id}/${of}`)).text)
    const [question, layout] = [await page('question'), await page('layout')]
    const written = await trial.keeper.post(at(), await given({ seasonId: later.id }))
    const undo = await undoAfter(written)
    expect(await page('question')).toContain('Is the weight a m² another under Compost mulch')
    expect(await page('layout')).not.toBe(layout)
    const back = await trial.keeper.post(`${trial.base}/undo`, undo)
    expect(back.status).toBe(303)
    await trial.keeper.get(back.location)
    expect([await page('question'), await page('layout')]).toEqual([question, layout])
  })

  it('lays several methods out on the gardens that are chosen, and asks of each beside the reference', async () => {
    const year = { id: newId(), name: '2037', startsOn: '2037-03-01', endsOn: '2037-11-30' }
    await trial.keeper.post(`${trial.base}/seasons`, year)
    const rye = newId()
    await trial.keeper.post(`${trial.base}/gardens/methods`, { id: rye, name: 'Rye, cut and left' })
    const { methods: mulch } = await given()
    const several = { methods: [mulch, rye], gardens: trial.gardens.lower, kind: 'gardens', seasonId: year.id }
    const done = await trial.keeper.post(at(), { ...(await given()), ...several, cropNames: 'carrot' })
    expect([done.status, plain(done.text)]).toEqual([303, ''])
    const kept = async (of: string) => plain((await trial.keeper.get(`${trial.base}/seasons/${year.id}/${of}`)).text)
    const question = await kept('question')
    expect(question).toContain('Is the weight a m² another under Compost mulch and Rye, cut and left than under Dug')
    expect(question).toContain('Of Compost mulch and Rye, cut and left at least one gave another weight than Dug')
    const page = (await trial.keeper.get(`${at()}?question=${year.id}`)).text
    expect(plain(page)).toContain('3 methods, 2 pairs')
    const form = (await trial.keeper.get(`${trial.base}/seasons/${year.id}/question`)).text
    expect(form).toMatch(/value="carrot"[^>]*checked|>carrot</)
    const layout = (await trial.keeper.get(`${trial.base}/seasons/${year.id}`)).text
    expect(plain(layout)).toContain('Lower Terrace')
  })

  it('leaves a question that stands there, and a season in which something is planned', async () => {
    const page = `${trial.base}/seasons/${next}/question`
    expect((await trial.keeper.post(`${page}/lock`)).status).toBe(303)
    expect((await trial.keeper.post(at(), await given({ kind: 'gardens' }))).status).toBe(303)
    expect(plain((await trial.keeper.get(page)).text)).toContain('It never changes again')
  })

  it('goes into the log of decisions with its finding, its expectation and its address', async () => {
    const text = (await trial.keeper.get(`${at()}?kind=split+gardens&n=4&crops=8&seasons=2`)).text
    const address = /href="([^"]*decisions\?form=decisions[^"]*)"/.exec(text)?.[1]?.replaceAll('&amp;', '&') ?? ''
    const log = (await trial.keeper.get(address)).text
    expect(plain(log)).toContain('would be shown four times in five')
    expect(log).toContain(
      'name="address" value="decide/next-season?kind=split+gardens&amp;n=4&amp;crops=8&amp;seasons=2"',
    )
  })
})
