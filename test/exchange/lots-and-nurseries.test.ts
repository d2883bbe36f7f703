import { afterAll, beforeAll, expect, it } from 'vitest'
import { openPlace, type Place } from '../support/app.ts'
import { plain } from '../support/page-checks.ts'
import { setUpTrial, type Trial } from '../support/trial.ts'
import { rowsOf, wrongIn } from './rows.ts'

let place: Place
let trial: Trial
beforeAll(async () => {
  place = await openPlace()
  trial = await setUpTrial(place)
})
afterAll(() => place.close())

const { read, stored, table } = rowsOf(() => trial)
const heading = 'day,garden,crop,marketable kg,state,same lot as\n'

it('a lot that a file weighs twice counts once, whether its first weight stands in the file or in the record', async () => {
  const lines = '10/01/2026,Long Bank,carrot,5,fresh,\n20/01/2026,Long Bank,carrot,4.6,from store,10/01/2026\n'
  const page = await read('harvests', `${heading}${lines}`)
  expect(await stored(page.at)).toContain('Stored: 2 rows.')
  const later = await read('harvests', `${heading}30/01/2026,Long Bank,carrot,4.4,fresh,10/01/2026\n`)
  expect(await stored(later.at)).toContain('Stored: 1 row.')
  const rows = await table('harvests')
  const first = rows.find((row) => row.harvested_on === '2026-01-10')
  expect(rows.map((row) => [row.harvested_on, row.counts, row.same_lot_as === first?.id]).sort()).toEqual([
    ['2026-01-10', '1', false],
    ['2026-01-20', '0', true],
    ['2026-01-30', '0', true],
  ])
})

it('a lot that is not there, or not alone on its day, is said at its cell', async () => {
  const twice = '11/01/2026,Long Bank,carrot,1,fresh,\n11/01/2026,Long Bank,carrot,2,fresh,\n'
  const wrong = await read(
    'harvests',
    `${heading}${twice}12/01/2026,Long Bank,carrot,1,from store,11/01/2026\n13/01/2026,Long Bank,carrot,1,from store,09/01/2026\n`,
  )
  expect(wrongIn(wrong)).toEqual([
    ['4', 'same lot as', 'Several weights of that day fit. Write this one down on the page of its week.'],
    ['5', 'same lot as', 'Nothing of this planting was weighed on that day.'],
  ])
})

it('a planting names the nursery that it was raised in, in its own garden or in another', async () => {
  const columns = 'garden,bed,crop,cultivar,area m2,sown,planted,how,raised in\n'
  const raised = (garden: string, nursery: string, how = 'transplanted') =>
    `${garden},Bed 1,tomato,Wren,1,02/03/2026,12/05/2026,${how},${nursery}\n`
  const wrong = await read(
    'plantings',
    `${columns}${raised('Long Bank', 'Glasshouse')}${raised('Long Bank', 'Bed 2', 'direct')}`,
  )
  expect(wrongIn(wrong).map(([line, field]) => [line, field])).toEqual([
    ['2', 'raised in'],
    ['3', 'raised in'],
  ])
  const page = await read(
    'plantings',
    `${columns}${raised('Long Bank', '"Lower Terrace, Bed 2"')}${raised('Lower Terrace', 'bed 2')}`,
  )
  expect(await stored(page.at)).toContain('Stored: 2 rows.')
  const bed = (await table('beds')).find((row) => row.name === 'Bed 2' && row.area_cm2 === '100000')
  const planted = (await table('plantings')).filter((row) => row.raised_in_bed_id !== '')
  expect(planted.map((row) => row.raised_in_bed_id)).toEqual([bed?.id, bed?.id])
  const { text } = await trial.keeper.get(`${trial.base}/compare.json?season=${trial.season}`)
  const { methods } = JSON.parse(text) as { methods: { method: string; totals: { bedAreaCm2: number } }[] }
  // The nursery, 10 m2 of the terrace, is half of each.
  expect(methods.map((one) => one.totals.bedAreaCm2)).toEqual([150_000, 350_000])
})

it('what is out of the usual is asked about in the preview: much from little ground, a long day, the same once more', async () => {
  const page = await read('harvests', `${heading}14/01/2026,Long Bank,carrot,900,fresh,\n`)
  expect(plain(page.text)).toContain('Worth a look')
  const hours = await read('labour', 'day,garden,task,time\n14/01/2026,Long Bank,weeding,19 h\n')
  expect(plain(hours.text)).toContain('Worth a look')
})
