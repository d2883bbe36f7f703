import { eq } from 'drizzle-orm'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { groups } from '../../src/accounts/accounts.table.ts'
import { compostForm, thingForm } from '../../src/decisions/deciding.form.ts'
import { dressingForm, dressingTyped } from '../../src/decisions/dressing.form.ts'
import { restartForm } from '../../src/decisions/restart.form.ts'
import { againstForm } from '../../src/soil/against-tests.form.ts'
import { limitsLookedAt } from '../../src/soil/limits.form.ts'
import { scenarioForm } from '../../src/soil/organic.form.ts'
import { readForm } from '../../src/web/form.ts'
import { type Client, openPlace, type Place } from '../support/app.ts'
import { plain } from '../support/page-checks.ts'

const tool = { price: '2000', salvage: '', years: '15', rate: '5', saved: '40' }
const group = { currency: 'NZD', areaUnit: 'm2' } as const

/** What no figure is: less than nothing, a machine's number, words, and two separators too many. */
const never = ['-1', '1e9', '1e400', 'NaN', 'Infinity', 'much', '1.2,3.4', '0x10', '12 parsec']
const days = ['2027-02-29', 'soon', '1e9', '-1']
type Field = readonly [name: string, right: readonly string[], wrong: readonly string[]]
const number = (name: string, right: readonly string[], wrong: readonly string[]): Field => [
  ...([name, right, [...never, ...wrong]] as const),
]

type Typed = Readonly<Record<string, string>>
interface Form {
  readonly path: string
  readonly beside?: Typed
  readonly read: (typed: Typed) => ReturnType<typeof readForm>
  readonly fields: readonly Field[]
}

const forms: readonly Form[] = [
  {
    path: 'decide/compost/layer',
    read: (typed) => readForm(compostForm(group), typed),
    fields: [
      number('area', ['10', '7,2', '7.2 m2', '1.2 x 6', '80 ft2'], ['', '0', '10 m']),
      number('depthMm', ['3 cm', '2,5 cm', '30 mm', '1 in', '0.5'], ['', '0', '2 m', '1001', '0-20 cm']),
      number('seasons', ['1', '50'], ['', '0', '51', '2.5']),
      number('pricePerM3', ['', '45', '45.50', '45,50'], ['45.505']),
      number('carriage', ['', '0', '60,00'], ['a lot']),
      number('density', ['', '600'], ['9', '3001', '600.5']),
      number('moisture', ['', '45', '45,5'], ['99.5', '101']),
      number('nitrogen', ['', '1.4', '1,4'], ['100.1']),
      number('phosphorus', ['0.35', '0,35'], ['100.1']),
      number('potassium', ['0.9'], ['100.1']),
      ['wantedOn', ['', '2027-08-01'], days],
    ],
  },
  {
    path: 'decide/compost',
    read: (typed) => readForm(dressingForm([]), dressingTyped(typed, [])),
    fields: [
      number('barrow', ['70', '62,5'], ['', '0', '5001']),
      number('bag', ['40', '33.3'], ['', '0', '5001']),
      number('settles.compost', ['80', '77,5'], ['', '0', '101']),
      number('settles.manure', ['60'], ['', '0', '101']),
      number('settles.mulch', ['30'], ['', '0', '101']),
      ['wantedOn', ['', '2027-08-01'], days],
    ],
  },
  {
    path: 'decide/pay-back',
    beside: tool,
    read: (typed) => readForm(thingForm(group), typed),
    fields: [
      number('price', ['2000', '1 999,90', '1999.90'], ['']),
      number('salvage', ['', '200'], ['2001', 'a little']),
      number('years', ['1', '100'], ['', '0', '101', '1.5']),
      number('rate', ['0', '4,5'], ['', '51']),
      ['saved', ['40', '1:30', '90 min', '1,5 h'], ['', '0', '-1', '1e9', 'NaN', 'much', '1:75']],
    ],
  },
  {
    path: 'decide/restart',
    read: (typed) => readForm(restartForm(group), typed),
    fields: [
      number('seasons', ['5', '2,5'], ['', '0', '21']),
      number('wage', ['', '28', '28,50'], ['28.505']),
      number('comesBack-high', ['100', '99,5'], ['', '101']),
      number('ownG-high', ['999', '999,5'], ['', '1000001']),
      ['hoeMinutes-high', ['30', '30 h', '29:30'], ['', '-1', '1e9', 'NaN', 'much', '1:75']],
    ],
  },
  {
    path: 'soil/organic-matter',
    read: (typed) => readForm(scenarioForm, typed),
    fields: [
      number('brought', ['', '600', '612,5'], ['20001']),
      number('organicShare', ['50', '62,5'], ['', '101']),
      number('humified', ['', '35'], ['101']),
      number('decay', ['', '1,5'], ['0', '51']),
      number('bulkDensity', ['1.3', '1,3'], ['', '0.2', '2.65']),
      number('years', ['50', '300'], ['', '0', '301', '1.5']),
    ],
  },
  {
    path: 'soil/against-tests',
    read: (typed) => readForm(againstForm, typed),
    fields: [
      number('bulkDensity', ['1.2', '1,35'], ['', '0.1', '2.65']),
      number('laboratoryError', ['0', '7,5'], ['', '101']),
      number('seasons', ['1', '50'], ['', '0', '51', '2.5']),
    ],
  },
  {
    path: 'soil/balance',
    read: (typed) => readForm(limitsLookedAt, typed),
    fields: [
      number('manure-nitrogen', ['', '0', '170', '170 kg/ha', '150 lb/acre'], ['10001', '17 kg']),
      number('compost-phosphorus', ['250,5', '17 g/m2'], ['10001', '17 kg/m2']),
    ],
  },
]

let place: Place
let keeper: Client
let base: string
beforeAll(async () => {
  place = await openPlace()
  keeper = await place.keeper()
  base = (await keeper.post('/demo/copy')).location
})
afterAll(() => place.close())

const get = (path: string, asked: Typed = {}) => keeper.get(`${base}/${path}?${new URLSearchParams(asked).toString()}`)
const unescaped = (text: string) =>
  text.replaceAll('&#39;', "'").replaceAll('&lt;', '<').replaceAll('&gt;', '>').replaceAll('&amp;', '&')

/** Every field of a page's forms that lead to the page itself, as it stands there. */
function fieldsIn(html: string, path: string): Record<string, string> {
  const own = [...html.matchAll(/<form[^>]*action="([^"]*)"[\s\S]*?<\/form>/g)].filter((one) => one[1]?.endsWith(path))
  const inputs = own.flatMap(([form]) => [...form.matchAll(/<input [^>]*name="([^"]*)"[^>]*value="([^"]*)"/g)])
  const selects = own.flatMap(([form]) => [
    ...form.matchAll(/<select[^>]*name="([^"]*)"[\s\S]*?<option value="([^"]*)"[^>]* selected/g),
  ])
  return Object.fromEntries([...selects, ...inputs].map((one) => [one[1] ?? '', unescaped(one[2] ?? '')]))
}

describe.each(forms)('$path', ({ path, beside = {}, read, fields }) => {
  it('reads each figure as people type it, and refuses in words at its own field what no figure is', async () => {
    const stands = { ...fieldsIn((await get(path)).text, path), ...beside }
    for (const [name, right, wrong] of fields) {
      for (const text of right)
        expect([name, text, read({ ...stands, [name]: text }).kind]).toEqual([name, text, 'answer'])
      for (const text of wrong) {
        const found = read({ ...stands, [name]: text })
        const said = found.kind === 'refused' ? found.errors[name] : undefined
        expect([name, text, (said ?? '').split(' ').length > 3]).toEqual([name, text, true])
      }
    }
  })

  it('what is typed stands in its field again, right or wrong, and a wrong one says why', async () => {
    const one = (at: 1 | 2, last: boolean) =>
      Object.fromEntries(fields.map((field) => [field[0], field[at].at(last ? -1 : 0) ?? '']))
    for (const typed of [one(1, false), one(1, true)]) {
      const answer = await get(path, { ...beside, ...typed })
      expect([answer.status, fieldsIn(answer.text, path)]).toEqual([200, expect.objectContaining(typed)])
    }
    const typed = one(2, true)
    const answer = await get(path, typed)
    expect([answer.status, fieldsIn(answer.text, path)]).toEqual([422, expect.objectContaining(typed)])
    const errors = Object.keys(typed).map(
      (name) => answer.text.split(`id="f-${name}-error">`)[1]?.split('</p>')[0] ?? '',
    )
    expect(errors.map((said) => plain(said).split(' ').length > 3)).toEqual(fields.map(() => true))
  })
})

it('a dressing as people say it: layers, barrows, bags, trailers of a stated size', async () => {
  const names = Object.keys(fieldsIn((await get('decide/compost')).text, 'decide/compost'))
  const name = names.find((one) => one.startsWith('amounts.')) ?? ''
  const amounts = [
    '3 cm',
    '2,5 cm',
    '1 in',
    '12 barrows',
    '40 bags of 40 l',
    '2 trailers of 1.5 m3',
    '800 kg',
    'nothing',
  ]
  for (const text of amounts) {
    const answer = await get('decide/compost', { [name]: text })
    const stands = fieldsIn(answer.text, 'decide/compost')[name]
    expect([text, answer.status, stands]).toEqual([text, 200, text])
  }
  for (const text of ['-1', 'NaN', '', '2 m', '3 trailers', '3 bags of wool', '0-20 cm']) {
    const answer = await get('decide/compost', { [name]: text })
    expect([text, answer.status, answer.text.includes(`id="f-${name}-error"`)]).toEqual([text, 422, true])
  }
})

describe('all figures that a page prints in its form, sent back, give the same page', () => {
  const figures = (html: string) => plain((html.split('<main')[1] ?? '').replace(/<form[\s\S]*?<\/form>/g, ''))
  it.each(['en-NZ', 'de-AT', 'fr-FR'])('%s', async (locale) => {
    const slug = base.split('/')[2] ?? ''
    await place.database.drizzle.update(groups).set({ locale }).where(eq(groups.slug, slug))
    for (const { path } of forms) {
      const first = await get(path)
      const again = await get(path, fieldsIn(first.text, path))
      expect([path, again.status]).toEqual([path, 200])
      expect([path, figures(again.text)]).toEqual([path, figures(first.text)])
    }
  })
})
