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

it('days are read as the group writes them where the whole column agrees, and a line is known by its values', async () => {
  const first = await read(
    'harvests',
    'day,garden,crop,marketable\n26/01/2026,Long Bank,carrot,3 kg\n27/01/2026,Long Bank,carrot,1 kg\n',
  )
  expect(wrongIn(first)).toEqual([])
  expect(await stored(first.at)).toContain('Stored: 2 rows.')
  expect((await table('harvests')).map((row) => row.harvested_on).sort()).toEqual(['2026-01-26', '2026-01-27'])
  // The same two lines in other letters, and one more.
  const again = await read(
    'harvests',
    'garden,crop,day,marketable (g)\nlong bank,Carrot,2026-01-26,3000\nLong Bank ,carrot,2026-01-27,1000.0\nLong Bank,carrot,2026-01-28,500\n',
  )
  expect(plain(again.text)).toContain('1 row')
  expect(await stored(again.at)).toContain('Stored: 1 row.')
  expect(await table('harvests')).toHaveLength(3)
  const mixed = await read(
    'harvests',
    'day,garden,crop,marketable\n26/01/2026,Long Bank,carrot,2 kg\n2026-01-27,Long Bank,carrot,2 kg\n',
  )
  expect(wrongIn(mixed).map((cells) => cells.slice(0, 2))).toEqual([['2', 'day']])
})

it('plantings from a file are matched by the rule of the plan or by the name that is given, and the rest is listed', async () => {
  const heading = 'garden,bed,crop,cultivar,area m2,sown,set\n'
  const lines = [
    'Lower Terrace,Bed 2,leek,Curlew,1,01/11/2025,',
    'Long Bank,Bed 2,leek,Curlew,1,01/11/2025,',
    'Lower Terrace,Bed 2,kale,Plover,1,05/11/2025,Winter',
    'Long Bank,Bed 2,kale,Plover,1,09/11/2025,Winter',
    'Long Bank,Bed 2,beetroot,Tern,1,09/11/2025,',
  ]
  const page = await read('plantings', `${heading}${lines.join('\n')}\n`)
  expect(wrongIn(page)).toEqual([])
  const said = plain(page.text)
  expect([said.includes('Compared with nothing'), said.includes('Line 6: Tern')]).toEqual([true, true])
  expect(said).not.toContain('Line 2: Curlew')
  expect(await stored(page.at)).toContain('Stored: 5 rows.')
  const sets = await table('matched_sets')
  const inSet = (await table('plantings')).map((row) => row.matched_set_id)
  expect(sets.map((row) => row.name).sort()).toEqual(['Curlew', 'Heron', 'Kestrel', 'Winter'])
  const named = (name: string) => sets.find((row) => row.name === name)?.id ?? ''
  const count = (name: string) => inSet.filter((id) => id === named(name)).length
  expect([count('Curlew'), count('Winter')]).toEqual([2, 2])
})
