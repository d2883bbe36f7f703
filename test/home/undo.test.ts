import { eq } from 'drizzle-orm'
import { afterAll, beforeAll, expect, it } from 'vitest'
import { groups, members } from '../../src/accounts/accounts.table.ts'
import { savedBy } from '../../src/accounts/saved.queries.ts'
import { newId } from '../../src/db/new-id.ts'
import { asMember } from '../../src/db/transaction.ts'
import { sites } from '../../src/gardens/gardens.table.ts'
import { type Client, openPlace, type Place } from '../support/app.ts'
import { plain, rowOf } from '../support/page-checks.ts'
import { choicesIn, plantingOf, setUpTrial, type Trial } from '../support/trial.ts'

let place: Place
let trial: Trial
beforeAll(async () => {
  place = await openPlace()
  trial = await setUpTrial(place)
})
afterAll(() => place.close())

/** The form that the page after a save offers: its address and its fields. */
function undoIn(html: string): [string, Record<string, string>] {
  const form = /<form method="post" action="([^"]*\/undo)">([\s\S]*?)<\/form>/.exec(html) ?? []
  const fields = [...(form[2] ?? '').matchAll(/name="(\w+)" value="([^"]*)"/g)]
  const own = fields.filter((field) => field[1] !== '_csrf')
  return [form[1] ?? '', Object.fromEntries(own.map((field) => [field[1], field[2]]))]
}

async function saveAndUndo(who: Client, address: string, fields: Record<string, unknown>) {
  const saved = await who.post(address, fields)
  expect(saved.status).toBe(303)
  const [undo, given] = undoIn((await who.get(saved.location)).text)
  return { undo, given, answer: await who.post(undo, given) }
}

it('a new garden is taken back from the notice, and undoing that brings it back', async () => {
  const siteId = choicesIn((await trial.keeper.get(`${trial.base}/gardens`)).text)('siteId')['Quern Hill'] ?? ''
  const fields = { id: newId(), siteId, name: 'Hay Meadow', grossAreaCm2: '50' }
  const { answer } = await saveAndUndo(trial.keeper, `${trial.base}/gardens/gardens`, fields)
  expect(answer.location).toBe(`${trial.base}/gardens`)
  const page = (await trial.keeper.get(answer.location)).text
  expect(plain(page)).toContain('Taken back')
  expect(rowOf(page, 'Hay Meadow')).toEqual([])
  const [again, given] = undoIn(page)
  await trial.keeper.post(again, given)
  expect(rowOf((await trial.keeper.get(`${trial.base}/gardens`)).text, 'Hay Meadow')[2]).toBe('50.0 m²')
})

it('an assignment that replaced another gives way to it again', async () => {
  const at = `${trial.base}/seasons/${trial.season}`
  const methodId = choicesIn((await trial.keeper.get(at)).text)('methodId')['Compost mulch'] ?? ''
  const fields = { id: newId(), place: `garden:${trial.gardens.lower}`, methodId, phase: 'established' }
  const given = { ...fields, yearOfMethod: '1', how: 'choice', surely: 'yes' }
  await saveAndUndo(trial.keeper, `${at}/assignments`, given)
  expect(rowOf((await trial.keeper.get(at)).text, 'Lower Terrace')[1]).toBe('Dug every spring established, by choice')
})

it('one cultivar planted in two gardens goes with its matched set, and a correction goes back to what stood', async () => {
  const at = `${trial.base}/seasons/${trial.season}`
  const choices = choicesIn((await trial.keeper.get(at)).text)
  const beds = Object.fromEntries(
    [trial.gardens.lower, trial.gardens.bank].map((id) => [id, choices(`beds[${id}]`)['Bed 2'] ?? '']),
  )
  const planted = { id: newId(), cropId: choices('cropId').leek, cultivar: 'Moor', areaCm2: '2', how: 'direct', beds }
  await saveAndUndo(trial.keeper, `${at}/plantings`, { ...planted, purpose: 'harvest', sownOn: '2025-10-05' })
  expect(plain((await trial.keeper.get(at)).text)).not.toContain('leek, Moor')

  const address = `${trial.base}/correct/gardens/${trial.gardens.bank}`
  const version = /name="version" value="(\d+)"/.exec((await trial.keeper.get(address)).text)?.[1] ?? ''
  await saveAndUndo(trial.keeper, address, { name: 'Bank', grossAreaCm2: '45', position: '2', version })
  expect(rowOf((await trial.keeper.get(`${trial.base}/gardens`)).text, 'Long Bank')[2]).toBe('40.0 m²')
})

it('a recorder takes back a clearing; nobody takes back what another has saved, or what was changed since', async () => {
  const recorder = await place.joined(trial.keeper, 'recorder')
  const plantingId = plantingOf(trial, 'carrot', 'Lower')
  const at = `${trial.base}/seasons/${trial.season}`
  const cleared = { plantingId, clearedOn: '2026-02-01' }
  const saved = await recorder.post(`${at}/clearings`, cleared)
  const [undo, given] = undoIn((await recorder.get(saved.location)).text)
  expect((await trial.keeper.post(undo, given)).status).toBe(404)
  expect((await recorder.post(undo, { ...given, back: 'https://elsewhere.example' })).status).toBe(404)
  expect((await recorder.post(undo, given)).status).toBe(303)
  expect((await recorder.post(undo, given)).status).toBe(409)

  const before = await recorder.post(`${at}/clearings`, cleared)
  const [late, stale] = undoIn((await recorder.get(before.location)).text)
  const correction = `${trial.base}/correct/plantings/${plantingId}`
  const version = /name="version" value="(\d+)"/.exec((await trial.keeper.get(correction)).text)?.[1]
  const stands = { areaCm2: '4', how: 'direct', purpose: 'harvest', sownOn: '2025-10-01', clearedOn: '2026-02-03' }
  expect((await trial.keeper.post(correction, { ...stands, version })).status).toBe(303)
  expect((await recorder.post(late, stale)).status).toBe(409)
  expect(plain((await recorder.get(at)).text)).toContain('3 February 2026')
})

it('a removed soil test comes back with the zero that the laboratory printed', async () => {
  const at = `${trial.base}/soil`
  const site = Object.values(choicesIn((await trial.keeper.get(at)).text)('place'))[0]
  const test = { id: newId(), place: site, sampledOn: '2025-09-01', laboratory: 'Hill Lab', analyte: 'pH', unit: 'pH' }
  expect((await trial.keeper.post(at, { ...test, value: '5.0', extractant: 'water' })).status).toBe(303)
  const address = `${trial.base}/correct/soil-tests/${test.id}`
  const { answer } = await saveAndUndo(trial.keeper, `${address}/removal`, { version: '1', reason: 'Other sample' })
  expect(answer.status).toBe(303)
  expect((await trial.keeper.get(address)).text).toMatch(/name="value"[^>]*value="5\.0"/)
})

it('a save of a thousand rows is offered whole, and one of more not at all', async () => {
  const saved = (count: number) =>
    asMember(place.database, who, async (tx) => {
      const rows = Array.from({ length: count }, () => ({ groupId: who.groupId, id: newId(), name: newId() }))
      await tx.insert(sites).values(rows)
      return savedBy(tx, who.groupId)
    })
  const [group] = await place.database.drizzle.select().from(groups).where(eq(groups.slug, trial.keeper.slug))
  const [keeper] = await place.database.drizzle
    .select()
    .from(members)
    .where(eq(members.groupId, group?.id ?? ''))
  const who = { groupId: group?.id ?? '', personId: keeper?.personId ?? '' }
  const whole = await saved(1000)
  expect([(whole?.last ?? 0) - (whole?.first ?? 0) + 1, whole?.tables]).toEqual([1000, ['sites']])
  expect(await saved(1001)).toBeNull()
})

it('a locked question offers no undo', async () => {
  const at = `${trial.base}/seasons/${trial.season}/question`
  const methodId = choicesIn((await trial.keeper.get(at)).text)('referenceMethodId')['Compost mulch'] ?? ''
  const draft = {
    ...{ id: newId(), question: 'Does the mulch give more?', primaryMeasure: 'matched yield', seasonsToLookAt: '1' },
    ...{ weights: 'marketable', mix: 'equal parts', outsideLosses: 'counted', marginPercent: '' },
    ...{ sentenceIfSeen: 'Another weight.', sentenceIfNotSeen: 'Not told.', referenceMethodId: methodId },
  }
  const saved = await trial.keeper.post(at, draft)
  expect(undoIn((await trial.keeper.get(saved.location)).text)[0]).toBe(`${trial.base}/undo`)
  const locked = await trial.keeper.post(`${at}/lock`)
  expect(undoIn((await trial.keeper.get(locked.location)).text)[0]).toBe('')
})
