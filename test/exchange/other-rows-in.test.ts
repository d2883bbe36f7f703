import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { catalogue } from '../../src/words/catalogue.ts'
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
      `${heading}2099-09-01,Long Bank,Coast Lab,P,Olsen,21,mg/kg,15\n2025-09-01,,Coast Lab,P,Olsen,21,mg/kg,15\n2025-09-01,Long Bank,Coast Lab,P,Olsen,little,mg/kg,deep\n`,
    )
    expect(wrongIn(wrong)).toEqual([
      ['2', 'day', 'This day is still to come.'],
      ['3', 'site', 'No site is called that. Name the site, or the garden.'],
      ['4', 'value', 'Please write a number, for example 3 or 2,5, or a limit such as &lt;5.'],
      ['4', 'depth', catalogue.fields.notLength],
    ])
    const unheaded = heading.replace('depth cm', 'depth')
    const alone = await read('soil', `${unheaded}2025-09-02,Long Bank,Coast Lab,P,Olsen,21,mg/kg,15\n`)
    expect(await stored(alone.at)).toContain('Stored: 1 row.')
    expect((await table('soil_tests')).map((row) => [row.value, row.depth_mm])).toEqual([['21', '150']])
    const page = await read('soil', `${heading}2025-09-01,Long Bank,Coast Lab,pH,water,"6,20",pH,15\n`)
    expect(await stored(page.at)).toContain('Stored: 1 row.')
    expect((await table('soil_tests')).map((row) => [row.value, row.depth_mm])).toContainEqual(['6.20', '150'])
  })

  it('the values of one soil report come in one file, limits among them as limits', async () => {
    const heading = 'day,garden,laboratory,analyte,extractant,value,unit,depth cm,standard error\n'
    const line = (analyte: string, value: string, error = '') =>
      `2025-09-03,Long Bank,Coast Lab,${analyte},XRF,${value},mg/kg,15,${error}\n`
    const wrong = await read('soil', `${heading}${line('Zn', '61', 'small')}`)
    expect(wrongIn(wrong)).toEqual([['2', 'error', catalogue.fields.notError]])
    const page = await read('soil', `${heading}${line('Zn', '61', '4 %')}${line('Cd', '<0.2')}${line('Pb', '> 600')}`)
    expect(plain(page.text)).toContain('&lt;0.2 mg/kg')
    expect(await stored(page.at)).toContain('Stored: 3 rows.')
    const kept = (await table('soil_tests')).filter((row) => row.sampled_on === '2025-09-03')
    const said = kept.map((row) => [row.analyte, row.value, row.beyond, row.standard_error, row.standard_error_of])
    expect(said.sort()).toEqual([
      ['Cd', '0.2', 'below', '', ''],
      ['Pb', '600', 'above', '', ''],
      ['Zn', '61', '', '4', 'percent'],
    ])
  })
})
