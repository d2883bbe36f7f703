import { afterAll, beforeAll, expect, it } from 'vitest'
import { newId } from '../../src/db/new-id.ts'
import { readAsPrinted, readSigned } from '../../src/quantities/decimals.ts'
import { readDepth, readLength } from '../../src/quantities/lengths.ts'
import { readStandardError, standardErrorAsTyped } from '../../src/quantities/standard-errors.ts'
import { catalogue } from '../../src/words/catalogue.ts'
import { type Client, openPlace, type Place } from '../support/app.ts'
import { plain, rowOf } from '../support/page-checks.ts'
import { setUpTrial, type Trial } from '../support/trial.ts'

let place: Place
let trial: Trial
let recorder: Client
let soil: string
beforeAll(async () => {
  place = await openPlace()
  trial = await setUpTrial(place)
  recorder = await place.joined(trial.keeper, 'recorder')
  soil = `${trial.base}/soil`
})
afterAll(() => place.close())

const sample = (given: Record<string, string> = {}) => ({
  ...{ id: newId(), place: `garden:${trial.gardens.lower}`, sampledOn: '2025-08-05', laboratory: 'Harbour laboratory' },
  ...{ analyte: 'P', extractant: 'Olsen', value: '22', unit: 'mg/L', depthMm: '15 cm', lowUnder: '', highFrom: '' },
  ...given,
})

/** The cells of the table of one series, row by row. */
function tableOf(html: string, caption: string): string[][] {
  const table = html.split(`<caption>${caption}`)[1]?.split('</table>')[0] ?? ''
  const rows = table.match(/<tr[\s>][\s\S]*?<\/tr>/g) ?? []
  return rows.map((row) => [...row.matchAll(/<t[hd][^>]*>([\s\S]*?)<\/t[hd]>/g)].map((cell) => plain(cell[1] ?? '')))
}

it('values by two extractants stand in two tables, with the reason', async () => {
  await recorder.post(soil, sample())
  await recorder.post(soil, sample({ sampledOn: '2024-08-06', value: '20,0', lowUnder: '15', highFrom: '30' }))
  await recorder.post(soil, sample({ extractant: 'Mehlich-3', value: '38', unit: 'mg/kg' }))
  const page = (await recorder.get(soil)).text
  expect(tableOf(page, 'P by Olsen, in mg/L, 0 to 15 cm')).toEqual([
    ['Place', '6 August 2024', '5 August 2025'],
    ['Lower Terrace', '20.0 optimum, as the laboratory reads it', '22'],
  ])
  expect(tableOf(page, 'P by Mehlich-3, in mg/kg, 0 to 15 cm')[1]).toEqual(['Lower Terrace', '38'])
  expect(plain(page)).toContain('different extractants are different quantities')
  expect(plain(page)).toContain('ANR-75')
  expect(plain(page)).toContain('200 mg/kg')
})

it('a form sent twice is stored once', async () => {
  const twice = sample({ analyte: 'K', extractant: 'ammonium acetate', value: '140', unit: 'mg/kg' })
  for (const _ of [1, 2]) expect((await recorder.post(soil, twice)).status).toBe(303)
  const page = (await recorder.get(soil)).text
  expect(tableOf(page, 'K by ammonium acetate, in mg/kg')[1]).toEqual(['Lower Terrace', '140'])
})

it('another laboratory in one series is named at its value', async () => {
  await recorder.post(soil, sample({ place: `garden:${trial.gardens.bank}`, laboratory: 'Second laboratory' }))
  const page = (await recorder.get(soil)).text
  expect(plain(page)).toContain('From Harbour laboratory, except where another laboratory is named')
  expect(tableOf(page, 'P by Olsen')[2]).toEqual(['Long Bank', 'not tested', '22 Second laboratory'])
})

it.each([
  ['pH', '64'],
  ['pH (water)', '-1'],
])('a pH outside 0 to 14 is refused: %s %s', async (analyte, value) => {
  const answer = await recorder.post(soil, sample({ analyte, value, unit: 'pH' }))
  expect(answer.status).toBe(422)
  expect(plain(answer.text)).toContain(
    'A pH lies between 0 and 14, a share between 0 and 100 %. Is a decimal point missing?',
  )
  expect(answer.text).toContain(`value="${value}"`)
})

it.each([
  [{ value: 'some' }, 'Please write a number'],
  [{ sampledOn: '2101-01-01' }, 'This day is still to come'],
  [{ depthMm: '6 furlongs' }, 'This is no length'],
  [{ lowUnder: '30', highFrom: '15' }, 'High must begin at or above where low ends'],
  [{ place: `bed:${newId()}` }, 'Please choose one of the list'],
  [{ laboratory: '' }, 'Please fill this in'],
])('what cannot be is refused at its field, with all that was typed: %o', async (wrong, sentence) => {
  const answer = await recorder.post(soil, sample({ analyte: 'zinc', ...(wrong as Record<string, string>) }))
  expect(answer.status).toBe(422)
  expect(plain(answer.text)).toContain(sentence)
  expect(answer.text).toContain('value="zinc"')
})

it('a wrong value is corrected, a wrong test removed with its reason, and a reader does neither', async () => {
  const id = newId()
  await recorder.post(soil, sample({ id, analyte: 'Mg', value: '1.5' }))
  const address = `${trial.base}/correct/soil-tests/${id}`
  const shown = await recorder.get(address)
  const version = /name="version" value="(\d+)"/.exec(shown.text)?.[1] ?? ''
  expect(shown.text).toContain('value="15 cm"')
  const fields = { ...sample({ analyte: 'Mg', value: '150', place: `garden:${trial.gardens.bank}` }), version }
  expect((await recorder.post(address, fields)).status).toBe(303)
  expect(tableOf((await recorder.get(soil)).text, 'Mg by Olsen')[1]).toEqual(['Long Bank', '150'])
  expect((await recorder.post(address, fields)).status).toBe(409)
  const reader = await place.joined(trial.keeper, 'reader')
  expect((await reader.post(`${address}/removal`, { version: '2', reason: 'typed twice' })).status).toBe(403)
  expect((await recorder.post(`${address}/removal`, { version: '2', reason: 'typed twice' })).status).toBe(303)
  expect(tableOf((await recorder.get(soil)).text, 'Mg by Olsen')).toEqual([])
  expect(rowOf((await reader.get(soil)).text, '5 August 2025').length).toBe(8)
})

it('programs read the same series, each with its values as they were printed', async () => {
  interface Figures {
    readonly series: readonly { analyte: string; extractant: string; depthMm: number; tests: { value: string }[] }[]
  }
  const { series } = await recorder.json<Figures>(`${soil}.json`)
  const olsen = series.find((one) => one.analyte === 'P' && one.extractant === 'Olsen')
  expect(olsen?.tests.map((one) => one.value).sort()).toEqual(['20.0', '22', '22'])
  expect(olsen?.depthMm).toBe(150)
  const csv = (await recorder.get(`${soil}.csv`)).text.split('\r\n')
  expect(csv[0]).toBe('series,analyte,extractant,unit,depthMm,day,site,garden,bed,laboratory,value,standardError')
  expect(csv.filter((line) => line.includes(',P,Olsen,mg/L,150,2024-08-06,Quern Hill,Lower Terrace,,'))).toHaveLength(1)
  const numbers = (extractant: string) =>
    new Set(csv.filter((line) => line.includes(`,P,${extractant},`)).map((line) => line.split(',')[0]))
  expect([numbers('Olsen').size, numbers('Mehlich-3').size]).toEqual([1, 1])
  expect(numbers('Olsen')).not.toEqual(numbers('Mehlich-3'))
})

it('a laboratory’s standard error is kept as it was printed, shown, corrected and sent out; impossible ones are refused', async () => {
  const id = newId()
  const given = { analyte: 'S', unit: 'mg/kg', value: '18.0' }
  expect((await recorder.post(soil, sample({ id, ...given, standardError: '5,0 %' }))).status).toBe(303)
  expect((await recorder.get(soil)).text).toContain(catalogue.soil.errorSaid('5.0 %'))
  const address = `${trial.base}/correct/soil-tests/${id}`
  expect((await recorder.get(address)).text).toContain('value="5.0 %"')
  const fields = sample({ ...given, standardError: '± 0.9', version: '1' })
  expect((await recorder.post(address, fields)).status).toBe(303)
  expect((await recorder.get(address)).text).toContain('name="standardError" type="text" value="0.9"')
  expect((await recorder.get(`${soil}.csv`)).text).toMatch(/,S,Olsen,mg\/kg,150,.*,18\.0,0\.9\r\n/)
  // Per cent of a value in per cent are its unit.
  await recorder.post(soil, sample({ analyte: 'Humus', unit: '%', value: '4.1', standardError: '0.2 %' }))
  expect((await recorder.get(`${soil}.csv`)).text).toMatch(/,Humus,Olsen,%,150,.*,4\.1,0\.2\r\n/)
  for (const [error, sentence] of [
    ['-1', catalogue.fields.notError],
    ['0', catalogue.fields.moreThanNothing],
    ['101 %', catalogue.fields.notError],
    ['1e9', catalogue.fields.notError],
    ['NaN', catalogue.fields.notError],
    ['little', catalogue.fields.notError],
    ['18.1', catalogue.soil.errorTooLarge],
  ] as const) {
    const wrong = await recorder.post(soil, sample({ ...given, standardError: error }))
    expect([error, wrong.status, plain(wrong.text)]).toEqual([error, 422, expect.stringContaining(sentence)])
  }
})

it.each([
  ['2.5', { digits: '2.5', of: 'unit' }],
  ['± 2,50', { digits: '2.50', of: 'unit' }],
  ['+/- 3', { digits: '3', of: 'unit' }],
  ['5 %', { digits: '5', of: 'percent' }],
  ['100%', { digits: '100', of: 'percent' }],
])('a standard error as it is printed: %s, and as typed again', (text, value) => {
  expect(readStandardError(text)).toEqual({ kind: 'answer', value })
  expect(readStandardError(standardErrorAsTyped(value.digits, value.of))).toEqual({ kind: 'answer', value })
})

it('a limit stays one wherever the value stands, and is corrected as one', async () => {
  const id = newId()
  expect((await recorder.post(soil, sample({ id, analyte: 'Pb', value: '< 5,0', unit: 'mg/kg' }))).status).toBe(303)
  expect(tableOf((await recorder.get(soil)).text, 'Pb by Olsen')[1]).toEqual(['Lower Terrace', '&lt;5.0'])
  const { series } = await recorder.json<{ series: { analyte: string; tests: { value: string }[] }[] }>(`${soil}.json`)
  expect(series.find((one) => one.analyte === 'Pb')?.tests.map((one) => one.value)).toEqual(['<5.0'])
  expect((await recorder.get(`${soil}.csv`)).text).toContain(',<5.0')
  const page = `${trial.base}/correct/soil-tests/${id}`
  const shown = await recorder.get(page)
  expect(shown.text).toContain('value="&lt;5.0"')
  const version = /name="version" value="(\d+)"/.exec(shown.text)?.[1] ?? ''
  const fields = { ...sample({ analyte: 'Pb', value: '>600', unit: 'mg/kg' }), version }
  expect((await recorder.post(page, fields)).status).toBe(303)
  expect(tableOf((await recorder.get(soil)).text, 'Pb by Olsen')[1]).toEqual(['Lower Terrace', '&gt;600'])
  for (const value of ['<', '<<5', '5<'])
    expect((await recorder.post(soil, sample({ analyte: 'Pb', value }))).status).toBe(422)
})

it('a limit of organic matter is in no course of it', async () => {
  const at = { analyte: 'organic matter', extractant: 'loss on ignition', unit: '%' }
  for (const [sampledOn, value] of [
    ['2023-08-01', '<2'],
    ['2024-08-01', '4.1'],
  ])
    expect((await recorder.post(soil, sample({ ...at, sampledOn: sampledOn ?? '', value: value ?? '' }))).status).toBe(
      303,
    )
  const page = plain((await recorder.get(`${soil}/organic-matter`)).text)
  expect(page).toContain('This needs at least two tests of organic matter in per cent')
})

it('the values of one report come in one form: what is left blank is not there, what is wrong is said at its cell', async () => {
  const line = (analyte: string, value: string) => ({
    analyte,
    extractant: 'XRF',
    value,
    unit: 'mg/kg',
    lowUnder: '',
    highFrom: '',
  })
  const blank = { analyte: '', extractant: '', value: '', unit: '', lowUnder: '', highFrom: '' }
  const report = { ...sample({ analyte: 'Zn', extractant: 'XRF', value: '61', unit: 'mg/kg' }) }
  const wrong = await recorder.post(soil, {
    ...report,
    more: { 0: line('Cu', '12'), 1: blank, 2: line('Cd', 'little') },
  })
  expect(wrong.status).toBe(422)
  expect(wrong.text).toContain('name="more[0][analyte]" value="Cu"')
  expect(wrong.text).toContain('id="f-more.2.value-error"')
  expect(plain(wrong.text)).not.toContain('Zn by XRF')
  const right = { ...report, more: { 0: line('Cu', '12'), 1: blank, 2: line('Cd', '<0.2') } }
  for (const _ of ['once', 'and again']) expect((await recorder.post(soil, right)).status).toBe(303)
  const page = (await recorder.get(soil)).text
  for (const [analyte, value] of [
    ['Zn', '61'],
    ['Cu', '12'],
    ['Cd', '&lt;0.2'],
  ])
    expect(tableOf(page, `${analyte} by XRF, in mg/kg, 0 to 15 cm`)[1]).toEqual(['Lower Terrace', value])
})

it('lengths and signed decimals read as people type them', () => {
  expect(['15', '15 cm', '150mm', '6 in', '0,15 m'].map((text) => readLength(text, 'cm'))).toEqual(
    [150, 150, 150, 152, 150].map((value) => ({ kind: 'answer', value })),
  )
  expect(readLength('', 'cm')).toEqual({ kind: 'refused', reason: 'empty' })
  expect(['-2,5', '−3', '4', '-0'].map((text) => readSigned(text))).toEqual(
    [-2.5, -3, 4, 0].map((value) => ({ kind: 'answer', value })),
  )
  expect(['5,0', '-1.50', '7'].map((text) => readAsPrinted(text))).toEqual(
    ['5.0', '-1.50', '7'].map((value) => ({ kind: 'answer', value })),
  )
  expect(readSigned('--3').kind).toBe('refused')
})

it('a depth reads as a report prints it, from the surface down, and as it was shown', async () => {
  const typed = ['0-20 cm', '0 – 20 cm', '0 to 8 in', '0 cm-200 mm', '20', '0–0,2 m']
  expect(typed.map((text) => readDepth(text, 'cm'))).toEqual(
    [200, 200, 203, 200, 200, 200].map((value) => ({ kind: 'answer', value })),
  )
  expect(['10-20 cm', '-20 cm', '0-', '0 to'].map((text) => readDepth(text, 'cm').kind)).toEqual(
    Array(4).fill('refused'),
  )
  await recorder.post(soil, sample({ analyte: 'Mg', value: '90', depthMm: '0-20 cm' }))
  expect(tableOf((await recorder.get(soil)).text, 'Mg by Olsen, in mg/L, 0 to 20 cm')[1]).toEqual([
    'Lower Terrace',
    '90',
  ])
})
