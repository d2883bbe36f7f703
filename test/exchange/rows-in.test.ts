import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { newId } from '../../src/db/new-id.ts'
import { catalogue } from '../../src/words/catalogue.ts'
import { type Answer, type Client, openPlace, type Place } from '../support/app.ts'
import { plain, rowOf } from '../support/page-checks.ts'
import { plantingOf, setUpTrial, type Trial } from '../support/trial.ts'
import { rowsIn, unpacked } from './unpacked.ts'

let place: Place
let trial: Trial
beforeAll(async () => {
  place = await openPlace()
  trial = await setUpTrial(place)
})
afterAll(() => place.close())

/** Sends a file and looks again until it is read; answers that page and its address. */
async function read(
  kind: string,
  text: string | Buffer,
  client: Client = trial.keeper,
): Promise<Answer & { at: string }> {
  const sent = await client.upload(
    `${trial.base}/exchange/rows`,
    { kind },
    { name: 'rows.csv', bytes: Buffer.from(text) },
  )
  expect(sent.status).toBe(303)
  return { ...(await settled(sent.location, client)), at: sent.location }
}

async function settled(address: string, client: Client = trial.keeper): Promise<Answer> {
  for (;;) {
    const page = await client.get(address)
    if (!page.text.includes('http-equiv="refresh"')) return page
    await new Promise((done) => setTimeout(done, 20))
  }
}

async function stored(address: string): Promise<string> {
  await trial.keeper.post(`${address}/confirm`)
  return plain((await settled(address)).text.split('<main')[1] ?? '')
}

/** The rows of a table as the whole export shows them. */
async function table(name: string): Promise<Record<string, string>[]> {
  const files = await unpacked(await trial.keeper.download(`${trial.base}/exchange/export.zip`))
  return rowsIn(files.get(`data/${name}.csv`))
}

const wrongIn = (page: Answer) => {
  const body = page.text.split('<h2>Lines that are not right</h2>')[1]?.split('</table>')[0] ?? ''
  return [...body.matchAll(/<tr><th scope="row">([^<]*)<\/th><td>([^<]*)<\/td><td>([^<]*)/g)].map((found) =>
    found.slice(1, 4).map((cell) => plain(cell)),
  )
}

const weights = [
  'Day;Garden;Bed;Crop;Marketable kg;Unmarketable kg;Why;Note',
  '2026-01-28;Long Bank;Bed 1;carrot;"1,5";0,25;damaged by slugs;after rain',
  '2026-01-28;lower terrace;;Potato;850 g;;;',
  '2026-01-28;lower terrace;;Potato;850 g;;;',
].join('\r\n')

describe('weights from a file', () => {
  it('are shown as they would be stored, and nothing is stored before that is confirmed', async () => {
    const page = await read('harvests', weights)
    const text = plain(page.text)
    expect(text).toContain('3 rows to be stored, 0 in the record already, 0 rows not right.')
    expect(text).toContain('These columns are not known here and are left out: Note.')
    expect(rowOf(page.text, '28 January 2026')).toEqual([
      '28 January 2026',
      'carrot, Kestrel · Long Bank',
      '1.5 kg',
      '0.250 kg',
      '',
    ])
    expect(await table('harvests')).toEqual([])
    expect(await stored(page.at)).toContain('Stored: 3 rows.')
    const rows = (await table('harvests')).map((row) => [
      row.marketable_g,
      row.unmarketable_g,
      row.unmarketable_reason,
      row.iso_week,
    ])
    expect(rows.sort()).toEqual([
      ['1500', '250', 'slugs', '2026-W05'],
      ['850', '0', '', '2026-W05'],
      ['850', '0', '', '2026-W05'],
    ])
    const history = await table('changes')
    expect(history.filter((row) => row.table_name === 'harvests').map((row) => row.reason)).toEqual(
      Array(3).fill('read from a file'),
    )
  })

  it('add nothing when the same file comes again, also with its columns in another order', async () => {
    const before = await table('harvests')
    const again = await read('harvests', weights)
    expect(plain(again.text)).toContain('All lines of this file stand in the record already.')
    expect(again.text).not.toContain('/confirm"')
    const lines = weights.split('\r\n').map((line) => line.split(';'))
    const turned = lines.map((cells) => [...cells].reverse().join(';')).join('\n')
    expect(plain((await read('harvests', turned)).text)).toContain('0 rows to be stored, 3 in the record already')
    const more = await read('harvests', `${weights}\r\n2026-01-28;lower terrace;;Potato;850 g;;;\r\n`)
    expect(plain(more.text)).toContain('1 row to be stored, 3 in the record already')
    expect(await table('harvests')).toEqual(before)
  })

  it('list every wrong cell with its line and what would be right, by the rules of the Week page', async () => {
    await trial.keeper.post(`${trial.base}/weeks/2026-W03/closings`, { gardenId: trial.gardens.bank, what: 'weights' })
    const page = await read(
      'harvests',
      [
        'day,garden,bed,crop,weight,unit,unmarketable,why,source',
        '2026-02-30,Long Bank,,carrot,1,kg,,,',
        '2099-01-05,Long Bank,,carrot,1,kg,,,',
        '2025-09-01,Long Bank,,carrot,1,kg,,,',
        '2026-01-14,Long Bank,,carrot,1,kg,,,',
        '2026-01-28,Far Bank,,carrot,1,kg,,,',
        '2026-01-28,Long Bank,Bed 9,carrot,1,kg,,,',
        '2026-01-28,Long Bank,,leek,1,kg,,,',
        '2026-01-28,Long Bank,,carrot,1,stone,,,',
        '2026-01-28,Long Bank,,carrot,,,,,',
        '2026-01-28,Long Bank,,carrot,1,kg,1,,',
        '2026-01-28,Long Bank,,carrot,1,kg,1,moles,',
        '2026-01-28,Long Bank,,carrot,-1,kg,,,',
        '2026-01-28,Long Bank,,carrot,1,kg,,,memory',
        '2026-01-28,Long Bank,,carrot,1',
        '2026-01-28,Long Bank,,carrot,1,kg,,,',
      ].join('\n'),
    )
    expect(wrongIn(page)).toEqual([
      ['2', 'day', 'This is not a day of the calendar. Write it as 2027-03-28.'],
      ['3', 'day', 'This day is still to come.'],
      ['4', 'day', 'This planting was not sown yet on that day.'],
      ['5', 'day', 'This week is closed for that garden. Reopen it first.'],
      ['6', 'garden', 'No garden is called that.'],
      ['7', 'bed', 'No bed of that garden is called that.'],
      ['8', 'crop', 'No planting there fits this crop, bed and cultivar.'],
      ['9', 'marketable', 'This is no weight. Write for example 1.5, 1,5 kg, 850 g or 3 lb 4 oz.'],
      ['10', 'marketable', 'Write down a weight in one of the two fields.'],
      ['11', 'why', 'Say why it is not marketable.'],
      ['12', 'why', 'This reason is not known here. Write &quot;other&quot; if none fits.'],
      ['13', 'marketable', 'This is no weight. Write for example 1.5, 1,5 kg, 850 g or 3 lb 4 oz.'],
      ['14', 'source', 'Write field or paper, or leave it blank.'],
      ['15', '', 'This line has 5 cells and the heading 9.'],
    ])
    expect(page.text).not.toContain('/confirm"')
    await trial.keeper.post(`${page.at}/confirm`)
    expect((await table('harvests')).length).toBe(3)
  })

  it('with a heading that lacks a column, or names one twice, say so', async () => {
    expect(plain((await read('harvests', 'day,crop,weight,kg\n')).text)).toContain('needed and missing: garden.')
    expect(plain((await read('harvests', 'day,date,garden,crop,weight\n')).text)).toContain('stand twice: date.')
    expect(plain((await read('harvests', '\n')).text)).toContain('There is no line with rows in this file.')
  })

  it('with an open quote mark or letters of another encoding say at which line', async () => {
    const heading = 'day,garden,crop,weight\n'
    const open = await read(
      'harvests',
      `${heading}2026-01-28,Long Bank,carrot,1 kg\n2026-01-28,"Long Bank,carrot,1 kg\n`,
    )
    expect(wrongIn(open).map((one) => one[2])).toEqual([
      'A quote mark is open or stands where none can. What follows it cannot be read.',
    ])
    const latin = Buffer.concat([
      Buffer.from(`${heading}2026-01-28,`),
      Buffer.from([0xd8]),
      Buffer.from(' Bank,carrot,1 kg\n'),
    ])
    expect(wrongIn(await read('harvests', latin))).toEqual([
      ['2', 'garden', 'Some letters cannot be read. Save the file in UTF-8.'],
    ])
  })

  it('far above the usual are said and do not block', async () => {
    const page = await read('harvests', 'day,garden,crop,weight kg\n2026-01-29,Long Bank,carrot,400\n')
    expect(plain(page.text)).toMatch(/Line 2: 400.0 kg from 4.0 m² of carrot in one day is a great deal/)
    expect(page.text).toContain('/confirm"')
  })

  it('that were typed by hand already are said, as the Week page asks', async () => {
    const trialHarvest = {
      id: newId(),
      plantingId: plantingOf(trial, 'carrot', 'Long Bank'),
      harvestedOn: '2026-02-03',
    }
    await trial.keeper.post(`${trial.base}/weeks/2026-W06/harvests`, {
      ...trialHarvest,
      marketable: '1.25',
      source: 'field',
    })
    const page = await read(
      'harvests',
      'day,garden,crop,weight kg\n2026-02-03,Long Bank,carrot,1.25\n2026-02-03,Long Bank,carrot,1.5\n',
    )
    const asked = plain(page.text.split('Worth a look')[1] ?? '')
    expect(asked).toContain(`Line 2: ${catalogue.diary.sameAsk}`)
    expect(asked).not.toContain('Line 3')
    await trial.keeper.post(`${page.at}/drop`)
  })

  it('can be pasted, and dropped', async () => {
    const sent = await trial.keeper.upload(
      `${trial.base}/exchange/rows`,
      { kind: 'harvests', lines: 'day,garden,crop,weight\n2026-01-29,Long Bank,carrot,2\n' },
      { name: '', bytes: Buffer.alloc(0) },
    )
    expect(plain((await settled(sent.location)).text)).toContain('1 row to be stored')
    const dropped = await trial.keeper.post(`${sent.location}/drop`)
    expect(dropped.location).toBe(`${trial.base}/exchange/rows`)
    expect((await trial.keeper.get(sent.location)).status).toBe(404)
  })
})

describe('a file of five thousand weights', () => {
  const line = (day: number, more = '') =>
    `2026-0${1 + (day % 2)}-${String(1 + (day % 20)).padStart(2, '0')},Lower Terrace,potato,${1 + day}${more}`
  const good = Array.from({ length: 5000 }, (_, day) => line(day, ' g'))
  const wrongAt = Array.from({ length: 50 }, (_, i) => 17 + 97 * i)
  const mixed = good.map((text, at) => (wrongAt.includes(at) ? text.replace(' g', ' pinches') : text))

  it('with one in a hundred wrong lists exactly those, and stores none', async () => {
    const before = (await table('harvests')).length
    const page = await read('harvests', ['day,garden,crop,weight', ...mixed].join('\n'))
    expect(plain(page.text)).toContain('4,950 rows to be stored, 0 in the record already, 50 rows not right.')
    expect(wrongIn(page).map((one) => Number(one[0]))).toEqual(wrongAt.map((at) => at + 2))
    await trial.keeper.post(`${page.at}/confirm`)
    expect((await table('harvests')).length).toBe(before)
  })

  it('is stored whole', async () => {
    const before = (await table('harvests')).length
    const page = await read('harvests', ['day,garden,crop,weight', ...good].join('\n'))
    expect(await stored(page.at)).toContain('Stored: 5,000 rows.')
    expect((await table('harvests')).length).toBe(before + 5000)
    expect(plain((await read('harvests', ['day,garden,crop,weight', ...good].join('\n'))).text)).toContain(
      '0 rows to be stored, 5,000 in the record already',
    )
  })

  it('that was right when it was read is stored no more once its week is closed', async () => {
    const page = await read(
      'harvests',
      'day,garden,crop,weight kg\n2026-02-23,Long Bank,carrot,2\n2026-02-24,Long Bank,carrot,2\n',
    )
    await trial.keeper.post(`${trial.base}/weeks/2026-W09/closings`, { gardenId: trial.gardens.bank, what: 'weights' })
    const before = (await table('harvests')).length
    expect(await stored(page.at)).toContain('The record changed while this file waited')
    expect((await table('harvests')).length).toBe(before)
    expect(wrongIn(await trial.keeper.get(page.at)).length).toBe(2)
  })
})

describe('other rows', () => {
  it('labour: by day or week, for two people, in minutes or hours', async () => {
    await trial.keeper.post(`${trial.base}/weeks/2026-W04/closings`, { gardenId: trial.gardens.bank, what: 'hours' })
    const good =
      'day,week,garden,bed,task,time,people,who\n2026-01-28,,Long Bank,Bed 1,weeding,1:30,2,Ada\n,2026-W05,Lower Terrace,,watering,90 min,,\n'
    const page = await read('labour', good)
    expect(await stored(page.at)).toContain('Stored: 2 rows.')
    const rows = (await table('labour_entries')).map((row) => [
      row.iso_week,
      row.worked_on,
      row.task,
      row.person_minutes,
      row.people,
      row.phase,
    ])
    expect(rows.sort()).toEqual([
      ['2026-W05', '', 'watering', '90', '1', 'established'],
      ['2026-W05', '2026-01-28', 'weeding', '180', '2', 'established'],
    ])
    const wrong = await read(
      'labour',
      'day,week,garden,task,time min\n,,Long Bank,weeding,30\n,2025-W53,Long Bank,weeding,30\n,2026-W04,Long Bank,weeding,30\n,2099-W04,Long Bank,weeding,30\n2026-01-28,,Long Bank,dreaming,30\n2026-07-01,,Long Bank,weeding,30\n',
    )
    expect(wrongIn(wrong)).toEqual([
      ['2', 'day', 'Give the day, or the week.'],
      ['3', 'week', 'This is no week of the calendar. Write it as 2027-W13.'],
      ['4', 'week', 'This week is closed for that garden. Reopen it first.'],
      ['5', 'week', 'This week is still to come.'],
      ['6', 'task', 'This is no task of the Week page.'],
      ['7', 'day', 'This day lies in no season. Say which season it counts toward.'],
    ])
  })

  it('plantings: a bed that is full refuses the line that is too much', async () => {
    const heading = 'garden,bed,crop,cultivar,area m2,sown on,cleared\n'
    const page = await read(
      'plantings',
      `${heading}Long Bank,Bed 2,leek,Curlew,10,2025-11-01,\nLong Bank,Bed 2,leek,Curlew,5,2025-11-02,\nLong Bank,Bed 2,kale,Plover,1,2025-12-01,\nLong Bank,Bed 2,rye,Plover,1,2025-12-01,\nLong Bank,Bed 2,leek,Curlew,1,2025-12-01,2025-11-01\n`,
    )
    expect(wrongIn(page)).toEqual([
      ['4', 'area', 'This is more than the bed still holds.'],
      ['5', 'crop', 'No crop is called that. Add it on the page of crops first.'],
      ['6', 'cleared', 'It cannot be cleared before it was sown.'],
    ])
    const good = await read(
      'plantings',
      `${heading}Long Bank,Bed 2,leek,Curlew,10,2025-11-01,2025-12-01\nLong Bank,Bed 2,leek,Curlew,15,2025-12-01,\n`,
    )
    expect(await stored(good.at)).toContain('Stored: 2 rows.')
    const leeks = (await table('plantings')).filter((row) => row.area_cm2 === '150000')
    expect(leeks.map((row) => [row.sown_on, row.how, row.purpose])).toEqual([['2025-12-01', 'direct', 'harvest']])
    expect((await table('cultivars')).filter((row) => row.name === 'Curlew').length).toBe(1)
  })

  it('plantings: what is meant to go by a day leaves its room to the next', async () => {
    const heading = 'garden,bed,crop,cultivar,area m2,sown on,stands until\n'
    const line = (sown: string, until: string) => `Long Bank,Bed 2,leek,Heron,15,${sown},${until}\n`
    const next = '2025-10-20'
    const tight = await read('plantings', `${heading}${line('2025-10-05', next)}${line('2025-10-19', '2025-10-30')}`)
    expect(wrongIn(tight)).toEqual([['3', 'area', 'This is more than the bed still holds.']])
    const early = await read('plantings', `${heading}${line('2025-10-05', '2025-10-01')}`)
    expect(wrongIn(early).map(([at, field]) => [at, field])).toEqual([['2', 'stands until']])
    const good = await read('plantings', `${heading}${line('2025-10-05', next)}${line(next, '2025-10-30')}`)
    expect(await stored(good.at)).toContain('Stored: 2 rows.')
    const first = (await table('plantings')).filter((row) => row.stands_until === next)
    expect(first.map((row) => row.sown_on)).toEqual(['2025-10-05'])
  })

  it('inputs: one name is counted in one unit, and a new manure says whether it is raw', async () => {
    const heading = 'date,input,kind,quantity,unit,price,raw manure\n'
    const wrong = await read(
      'inputs',
      `${heading}2025-09-01,Green compost,compost,2,m3,"180,00",\n2025-09-02,Green compost,compost,5,barrow,20,\n2025-09-02,Sheep manure,manure,1,m3,,\n2099-09-02,Hay,mulch,4,bale,1.234,\n`,
    )
    expect(wrongIn(wrong)).toEqual([
      ['3', 'unit', 'Green compost is counted in m3 here.'],
      ['4', 'manure', 'Say whether it is raw: harvest waits for raw manure.'],
      ['5', 'price', 'This is no amount of money. Write for example 12.50, in NZD.'],
    ])
    const page = await read(
      'inputs',
      `${heading}2025-09-01,Green compost,compost,2.5,m3,"180,00",\n2025-10-01,Green compost,compost,1,m3,,\n2025-09-02,Sheep manure,manure,1,m3,,raw\n`,
    )
    expect(await stored(page.at)).toContain('Stored: 3 rows.')
    expect((await table('deliveries')).map((row) => [row.quantity_thousandths, row.price_minor]).sort()).toEqual([
      ['1000', ''],
      ['1000', ''],
      ['2500', '18000'],
    ])
    expect((await table('inputs')).map((row) => [row.name, row.raw_manure]).sort()).toEqual([
      ['Green compost', '0'],
      ['Sheep manure', '1'],
    ])
  })

  it('soil tests: digits as they were printed, a depth with its unit', async () => {
    const heading = 'day,garden,laboratory,analyte,extractant,value,unit,depth cm\n'
    const wrong = await read(
      'soil',
      `${heading}2099-09-01,Long Bank,Coast Lab,P,Olsen,21,mg/kg,15\n2025-09-01,,Coast Lab,P,Olsen,21,mg/kg,15\n2025-09-01,Long Bank,Coast Lab,P,Olsen,<1,mg/kg,0-15\n`,
    )
    expect(wrongIn(wrong)).toEqual([
      ['2', 'day', 'This day is still to come.'],
      ['3', 'site', 'No site is called that. Name the site, or the garden.'],
      ['4', 'value', 'Please write a number, for example 3 or 2,5.'],
      ['4', 'depth', catalogue.fields.notLength],
    ])
    const page = await read('soil', `${heading}2025-09-01,Long Bank,Coast Lab,pH,water,"6,20",pH,15\n`)
    expect(await stored(page.at)).toContain('Stored: 1 row.')
    expect((await table('soil_tests')).map((row) => [row.value, row.depth_mm])).toEqual([['6.20', '150']])
  })
})

describe('who may', () => {
  it('a recorder brings in weights but no plantings, and sees no file of another group', async () => {
    const recorder = await place.joined(trial.keeper, 'recorder')
    const page = await read('harvests', 'day,garden,crop,weight\n2026-01-30,Long Bank,carrot,2\n', recorder)
    expect(plain(page.text)).toContain('1 row to be stored')
    expect((await recorder.get(`${trial.base}/exchange/rows`)).text).not.toContain('value="plantings"')
    const sent = await recorder.upload(
      `${trial.base}/exchange/rows`,
      { kind: 'plantings' },
      { name: 'x.csv', bytes: Buffer.from('garden') },
    )
    expect(sent.status).toBe(403)
    const other = await place.keeper()
    const id = page.at.split('/').at(-1)
    expect((await other.get(`/g/${other.slug}/exchange/rows/${id}`)).status).toBe(404)
    expect((await other.post(`/g/${other.slug}/exchange/rows/${id}/confirm`)).status).toBe(404)
  })

  it('the last three files of a group are kept, an older one makes room', async () => {
    const keeper = await place.keeper()
    const send = async () => {
      const file = { name: 'x.csv', bytes: Buffer.from(`day,${newId()}\n`) }
      const sent = await keeper.upload(`/g/${keeper.slug}/exchange/rows`, { kind: 'harvests' }, file)
      await settled(sent.location, keeper)
      return sent.location
    }
    const sent = [await send(), await send(), await send(), await send()]
    const there = await Promise.all(sent.map(async (address) => (await keeper.get(address)).status))
    expect(there).toEqual([404, 200, 200, 200])
  })
})
