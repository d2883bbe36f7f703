import { afterAll, beforeAll, expect, it } from 'vitest'
import { openPlace, type Place } from '../support/app.ts'
import { plain } from '../support/page-checks.ts'
import { setUpTrial, type Trial } from '../support/trial.ts'
import { rowsOf } from './rows.ts'

let place: Place
let trial: Trial
beforeAll(async () => {
  place = await openPlace()
  trial = await setUpTrial(place)
})
afterAll(() => place.close())

const { read, settled, table } = rowsOf(() => trial)
const heading = 'day,garden,bed,crop,marketable kg'
const weights = (day: string, ...kg: readonly string[]) =>
  [heading, ...kg.map((one) => `${day},Long Bank,Bed 1,carrot,${one}`)].join('\n')

/** Reads and stores a file: the address of its own page. */
async function storedAt(text: string, kind = 'harvests', client = trial.keeper): Promise<string> {
  const { at } = await read(kind, text, client)
  await client.post(`${at}/confirm`)
  const page = (await settled(at, client)).text
  return /href="([^"]*\/exchange\/rows\/stored\/\d+)"/.exec(page)?.[1] ?? page
}

const standing = async () => (await table('harvests')).filter((row) => row.removed_at === '')

it('a stored file is taken back whole with a reason, and the same file puts its rows back', async () => {
  const text = weights('2026-01-28', '1.5', '2', '2')
  const address = await storedAt(text)
  expect((await trial.keeper.post(address, { reason: '' })).status).toBe(422)
  expect(await standing()).toHaveLength(3)
  const taken = await trial.keeper.post(address, { reason: 'Wrong scale' })
  expect(taken.status).toBe(303)
  const form = (await trial.keeper.get(taken.location)).text
  expect(plain(form)).toContain('Taken back: 3 rows.')
  expect(form).not.toContain('/undo"')
  expect(await standing()).toEqual([])
  expect((await table('harvests')).map((row) => row.removed_reason)).toEqual(
    Array(3).fill('taken back with its file: Wrong scale'),
  )
  expect(plain((await trial.keeper.get(address)).text)).toContain('As the file brought them stand 0 rows.')

  expect(plain((await read('harvests', text)).text)).toContain('3 rows to be stored, 0 in the record already')
  const again = await storedAt(text)
  expect((await standing()).map((row) => [row.marketable_g, row.version]).sort()).toEqual([
    ['1500', '3'],
    ['2000', '3'],
    ['2000', '3'],
  ])
  expect(plain((await read('harvests', text)).text)).toContain('All lines of this file stand in the record already.')
  expect((await trial.keeper.post(again, { reason: 'Once more' })).status).toBe(303)
  expect(await standing()).toEqual([])
})

it('a row that was corrected or removed since stays as it is, and is counted', async () => {
  const address = await storedAt(weights('2026-01-29', '3', '4', '5'))
  const ids = new Map((await standing()).map((row) => [row.marketable_g, row.id]))
  const corrected = { marketable: '3.1', unmarketable: '0', why: '', pieces: '', version: '1' }
  const at = `${trial.base}/correct/harvests`
  expect((await trial.keeper.post(`${at}/${ids.get('3000')}`, corrected)).status).toBe(303)
  const removal = { version: '1', reason: 'Weighed twice' }
  expect((await trial.keeper.post(`${at}/${ids.get('4000')}/removal`, removal)).status).toBe(303)
  expect(plain((await trial.keeper.get(address)).text)).toContain('Changed or removed since: 2 rows')
  const taken = await trial.keeper.post(address, { reason: 'Wrong scale' })
  expect(plain((await trial.keeper.get(taken.location)).text)).toContain(
    'Taken back: 1 row. Changed or removed before, and left as they are: 2 rows.',
  )
  expect((await standing()).map((row) => row.marketable_g)).toEqual(['3100'])
  const lines = await read('harvests', weights('2026-01-29', '3', '4', '5'))
  expect(plain(lines.text)).toContain('1 row to be stored, 2 in the record already')
})

it('not where a week of it was closed since, until that is opened again', async () => {
  const address = await storedAt(weights('2026-01-20', '6'))
  const closing = { gardenId: trial.gardens.bank, what: 'weights' }
  await trial.keeper.post(`${trial.base}/weeks/2026-W04/closings`, closing)
  const refused = await trial.keeper.post(address, { reason: 'Wrong scale' })
  expect(refused.status).toBe(422)
  expect(plain(refused.text)).toContain('A week or a season of these rows was closed since.')
  expect((await standing()).map((row) => row.marketable_g)).toContain('6000')
})

it('by the recorder who stored it or by a keeper; others see it, readers do not', async () => {
  const recorder = await place.joined(trial.keeper, 'recorder')
  const other = await place.joined(trial.keeper, 'recorder')
  const reader = await place.joined(trial.keeper, 'reader')
  const address = await storedAt(weights('2026-02-03', '7'), 'harvests', recorder)
  expect((await reader.get(address)).status).toBe(403)
  expect(plain((await other.get(address)).text)).toContain('A keeper can take this file back, or who stored it.')
  expect((await other.post(address, { reason: 'Mine' })).status).toBe(403)
  expect((await recorder.post(address, { reason: 'Wrong scale' })).status).toBe(303)
  const listed = (await trial.keeper.get(`${trial.base}/exchange/rows`)).text
  expect(listed).toContain(`href="${address}"`)
  expect((await trial.keeper.get(`${trial.base}/exchange/rows/stored/1`)).status).toBe(404)
})

it('plantings that something rests on stay, and none of their file is taken back', async () => {
  const plantings =
    'garden,bed,crop,cultivar,area,sown\nLong Bank,Bed 2,kale,Raven,2,2025-11-01\nLong Bank,Bed 2,leek,Moor,2,2025-11-01'
  const address = await storedAt(plantings, 'plantings')
  await storedAt(`${heading}\n2026-02-03,Long Bank,Bed 2,kale,1`)
  const refused = await trial.keeper.post(address, { reason: 'Wrong beds' })
  expect(refused.status).toBe(422)
  expect(plain(refused.text)).toContain('Other entries rest on this one.')
  const rows = (await table('plantings')).filter((row) => row.sown_on === '2025-11-01')
  expect(rows.map((row) => row.removed_at)).toEqual(['', ''])
})
