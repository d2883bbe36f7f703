import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { newId } from '../../src/db/new-id.ts'
import { catalogue } from '../../src/words/catalogue.ts'
import { openPlace, type Place } from '../support/app.ts'
import { plain, rowOf } from '../support/page-checks.ts'
import { plantingOf, setUpTrial, type Trial } from '../support/trial.ts'
import { rowsOf, wrongIn } from './rows.ts'

let place: Place
let trial: Trial
beforeAll(async () => {
  place = await openPlace()
  trial = await setUpTrial(place)
})
afterAll(() => place.close())

const { read, settled, stored, table } = rowsOf(() => trial)

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
        '2026-01-28,Long Bank,,carrot,1,kg,,split,',
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
      ...[['16', 'why', catalogue.diary.whyOfNothing]],
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

describe('weights of several sowings in one bed', () => {
  const heading = 'day,garden,bed,crop,cultivar,weight kg'
  const line = '2026-02-05,Lower Terrace,Bed 2,"lettuce, cos",Dunlin,0.5'

  it('go to the one whose day the line names, and ask for it where none does', async () => {
    const planted = await read(
      'plantings',
      [
        'garden,bed,crop,cultivar,area,sown,planted,how',
        'Lower Terrace,Bed 2,"lettuce, cos",Dunlin,1,2025-12-03,,direct',
        'Lower Terrace,Bed 2,"lettuce, cos",Dunlin,1,2025-12-17,,direct',
        'Lower Terrace,Bed 2,"lettuce, cos",Dunlin,1,2025-12-10,2026-01-08,transplanted',
      ].join('\n'),
    )
    expect(await stored(planted.at)).toContain('Stored: 3 rows.')
    const unsaid = await read('harvests', `${heading}\n${line}\n`)
    expect(wrongIn(unsaid)).toEqual([['2', 'sown', 'More than one planting fits: name the day it was sown.']])
    const lines = ['2025-12-17', '2026-01-08', '2025-12-04', 'in December'].map((sown) => `${line},${sown}`)
    const wrong = await read('harvests', [`${heading},sown`, ...lines].join('\n'))
    expect(wrongIn(wrong)).toEqual([
      ['4', 'sown', 'None of them was sown or planted on that day.'],
      ['5', 'sown', 'This is not a day of the calendar. Write it as 2027-03-28.'],
    ])
    const good = await read('harvests', [`${heading},Sown on`, ...lines.slice(0, 2)].join('\n'))
    const text = plain(good.text)
    expect(text).toContain('lettuce, cos, Dunlin, sown 17 December 2025 · Lower Terrace')
    expect(text).toContain('lettuce, cos, Dunlin, planted 8 January 2026 · Lower Terrace')
    expect(await stored(good.at)).toContain('Stored: 2 rows.')
    const sown = new Map((await table('plantings')).map((row) => [row.id, row.planted_on || row.sown_on]))
    const weighed = (await table('harvests')).filter((row) => row.harvested_on === '2026-02-05')
    expect(weighed.map((row) => sown.get(row.planting_id ?? '')).sort()).toEqual(['2025-12-17', '2026-01-08'])
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
    expect(plain(page.text)).toContain('4 950 rows to be stored, 0 in the record already, 50 rows not right.')
    expect(wrongIn(page).map((one) => Number(one[0]))).toEqual(wrongAt.map((at) => at + 2))
    await trial.keeper.post(`${page.at}/confirm`)
    expect((await table('harvests')).length).toBe(before)
  })

  it('is stored whole', async () => {
    const before = (await table('harvests')).length
    const page = await read('harvests', ['day,garden,crop,weight', ...good].join('\n'))
    expect(await stored(page.at)).toContain('Stored: 5 000 rows.')
    expect((await table('harvests')).length).toBe(before + 5000)
    expect(plain((await read('harvests', ['day,garden,crop,weight', ...good].join('\n'))).text)).toContain(
      '0 rows to be stored, 5 000 in the record already',
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
