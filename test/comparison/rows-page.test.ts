import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { demoVisitor } from '../../src/accounts/members.queries.ts'
import { plainRules } from '../../src/comparison/matched/matched-season.ts'
import { trialRecord } from '../../src/comparison/record/trial-record.queries.ts'
import type { TrialRecord } from '../../src/comparison/record/trial-record.ts'
import { rowsPage } from '../../src/comparison/rows/rows.page.ts'
import { rowsBehind } from '../../src/comparison/rows/rows-behind.ts'
import { type FigureLine, figureLines } from '../../src/comparison/rows/rows-figures.ts'
import { scopeOf } from '../../src/comparison/rows/rows-scope.ts'
import type { LineShown } from '../../src/comparison/rows/rows-writing.page.ts'
import type { PageAsked } from '../../src/comparison/rows/sections-in-pages.ts'
import { readRowsAsked } from '../../src/comparison/rows.form.ts'
import { type FigureSection, figureKeys } from '../../src/comparison/totals/figures.ts'
import { newId } from '../../src/db/new-id.ts'
import { asMember } from '../../src/db/transaction.ts'
import { formatMoney, formatNumber } from '../../src/quantities/formatting.ts'
import { sectionKeys } from '../../src/reports/sections.ts'
import { catalogue } from '../../src/words/catalogue.ts'
import { type Client, openPlace, type Place } from '../support/app.ts'
import { wholeCompare } from '../support/compare.ts'
import { plain, rowOf } from '../support/page-checks.ts'
import { plantingOf, setUpTrial, type Trial } from '../support/trial.ts'

let place: Place
let guest: Client
let record: TrialRecord
const base = '/g/quern-hill'
beforeAll(async () => {
  place = await openPlace()
  guest = place.guest()
  await guest.post('/demo')
  const groupId = (await demoVisitor(place.database, 'quern-hill'))?.group.id ?? ''
  record = await asMember(place.database, { personId: null, groupId, readOnly: true }, (tx) => trialRecord(tx, groupId))
})
afterAll(() => place.close())

interface CellLink {
  /** What its table is called, and its row. */
  readonly table: string
  readonly row: string
  readonly text: string
  readonly address: string
  readonly section: string
}

/** Every link of Compare into the rows. */
function linksIn(html: string): CellLink[] {
  return html.split('<div class="wide"').flatMap((chunk) => {
    const table = plain(/aria-label="([^"]*)"/.exec(chunk)?.[1] ?? '')
    return (chunk.match(/<tr[\s>][\s\S]*?<\/tr>/g) ?? []).flatMap((tr) =>
      [...tr.matchAll(/<a class="to-rows" href="([^"#]*)#([^"]*)">([\s\S]*?)<\/a>/g)].map((found) => ({
        ...{ table, row: plain(/<th[^>]*>([\s\S]*?)<\/th>/.exec(tr)?.[1] ?? '') },
        ...{ address: plain(found[1] ?? ''), section: found[2] ?? '', text: plain(found[3] ?? '') },
      })),
    )
  })
}

const factors: Record<string, number> = {
  ...{ 'kg/m2': 10, 'h/m2': 10_000 / 60, 'h/kg': 1000 / 60, 'minor/kg': 1000, 'minor/m2': 10_000 },
  ...{ '1': 1 / 1000, 'm2/m2': 1 },
}

/** The two sums of a figure divided and rounded, as a reader would; both ways where it lies on the edge of two roundings. */
function divided({ unit, numerator, denominator }: FigureLine): string[] {
  if (unit === 'of') return [catalogue.comparison.of(numerator, denominator)]
  if (denominator === 0) return [catalogue.comparison.nothing]
  return [1 - 1e-12, 1 + 1e-12].map((edge) => {
    const value = (numerator / denominator) * (factors[unit] ?? Number.NaN) * edge
    if (unit.startsWith('minor')) return formatMoney(value, 'en-NZ', 'NZD')
    return unit === '1' ? `${formatNumber(100 * value, 'en-NZ', 0)} %` : formatNumber(value, 'en-NZ', 2)
  })
}

const read = new Map<string, ReturnType<typeof rowsBehind>>()

function behind(address: string) {
  const query = Object.fromEntries(new URLSearchParams(address.split('?')[1]))
  const { rules, counted, matched, beside, season, ...asked } = readRowsAsked(query)
  const scope = scopeOf(record, asked)
  if (!scope) throw new Error(address)
  const seasonIds = record.seasons.map((one) => one.id).filter((id) => season === 'all' || id === season)
  const whose = `${scope.id} ${season}`
  const all = read.get(whose) ?? rowsBehind(scope.record, seasonIds, scope.id)
  read.set(whose, all)
  const { crop, planting, task, cause, outside } = asked
  const given = { scope, seasonIds, all, rules, counted, kept: { crop, planting, task, cause, outside } }
  const shown = { matchedRules: { ...plainRules, ...matched }, besideId: beside ?? null }
  return {
    lines: figureLines(scope.record, all, { ...given, methodId: scope.id }),
    page: (at: PageAsked = { section: null, page: 1 }) =>
      rowsPage({ ...given, ...shown, shown: at, locale: 'en-NZ', currency: 'NZD' }),
  }
}

/** What a section says that the cell could be: its sums divided, or the end of a table that is no quotient. */
function saidIn(section: string, { lines, page }: ReturnType<typeof behind>): string[] {
  if (section === 'matched') return [page().matched?.sum ?? '']
  if (section === 'steady') return [page().steady?.mean ?? '']
  if (section === 'pair')
    return [...(page().pair?.seasons ?? []).map((one) => one.ratio ?? ''), page().pair?.mean ?? '']
  return (lines[section as FigureSection] ?? []).flatMap(divided)
}

const { findings: f, comparison: c } = catalogue
/** Statistics of more than one method: they rest on these rows, and are no quotient of two sums of them. */
const noQuotient = ({ table, row, text }: CellLink) =>
  ([f.whyTitle, f.perKgTitle] as string[]).includes(table) ||
  table.startsWith(`${f.byCrop}: `) ||
  (table === f.ifOnlyTitle && row !== f.ifOnlyRows.crude) ||
  (table === f.seasonsTitle && (/–/.test(text) || text === c.nothing)) ||
  (table === f.lossesTitle && (text === '–' || text === c.nothing)) ||
  text === c.otherwise.notWritten

describe.each(['the latest season', 'all', 'by garden', 'by bed', 'by crop', 'otherwise'] as const)(
  'every cell of Compare leads to its rows: %s',
  (which) => {
    const query = {
      'the latest season': '',
      all: '?season=all',
      'by garden': '?by=garden&area=gross&establishing=left+out',
      'by bed': '?by=bed&weights=all&ownMade=valued',
      'by crop': '?by=crop&harvestWork=without&weights=all',
      otherwise: '?by=method&weights=all&area=gross&harvestWork=without&establishing=spread&ownMade=valued',
    }[which]
    const isSteady = new Map<string, number>()

    it('and their sums, divided, are its figure as printed', { timeout: 120_000 }, async () => {
      const own = (one: CellLink) => !query.includes('by=') || one.table.startsWith(c.otherwise.title)
      const links = linksIn((await wholeCompare(guest, `${base}/compare${query}`)).text).filter(own)
      expect(links.length).toBeGreaterThan(25)
      const cache = new Map<string, ReturnType<typeof behind>>()
      let told = 0
      for (const link of links) {
        const found = cache.get(link.address) ?? behind(link.address)
        cache.set(link.address, found)
        // Of how steady a method was only the mean can be read off its rows, and of a crop its area is a sum.
        const at = `${link.table} ${link.row}`
        const column = link.section === 'steady' ? (isSteady.get(at) ?? 0) : 0
        isSteady.set(at, column + 1)
        if (noQuotient(link) || (link.section === 'steady' && column > 0)) continue
        const said = [...saidIn(link.section, found), ...(which === 'by crop' ? [found.page().plantings.sum.area] : [])]
        const parts =
          link.table === f.lossesTitle && link.text.includes(' · ') ? (link.text.split(' · ').at(-1) ?? '') : link.text
        expect({ ...link, said }).toMatchObject({ said: expect.arrayContaining([parts]) })
        told += 1
      }
      expect(told).toBeGreaterThan(links.length / 3)
    })
  },
)

it('the figures of the first table stand under their own names, with the words of Compare', async () => {
  const links = linksIn((await wholeCompare(guest, `${base}/compare`)).text).filter((one) => one.table === c.allCrops)
  const keys = Object.entries({
    ...c.coverage,
    ...Object.fromEntries(figureKeys.map((one) => [one, catalogue.measures.names[one]('NZD')])),
  })
  expect(links.length).toBe(13 * record.methods.length)
  const pages = new Map(links.map(({ address }) => [address, behind(address).page()]))
  for (const link of links) {
    const key = keys.find(([, words]) => words === link.row)?.[0] ?? ''
    const { lines } = behind(link.address)
    const line = lines[link.section as FigureSection].find((one) => one.key === key)
    const shown: LineShown | undefined = pages
      .get(link.address)
      ?.figures[link.section as FigureSection].find((one) => one.key === key)
    expect([link.row, ...(line ? divided(line) : [])]).toContain(link.text)
    expect([link.row, shown?.figure ?? (shown?.count && c.of(shown.count.some, shown.count.all))]).toEqual([
      link.row,
      link.text,
    ])
  }
})

it('the pages answer, and the section that each cell leads to stands on them', { timeout: 300_000 }, async () => {
  const kinds = new Map<string, CellLink>()
  for (const query of ['', '?season=all', '?by=garden', '?by=crop']) {
    for (const link of linksIn((await wholeCompare(guest, `${base}/compare${query}`)).text)) {
      const asked = new URLSearchParams(link.address.split('?')[1])
      const kind = [link.section, asked.get('season') === 'all', ...[...asked.keys()].sort()].join(' ')
      // One page of each kind, of another method each time where it can be.
      const method = record.methods[kinds.size % record.methods.length]?.id
      const before = kinds.get(kind)
      if (!before || (!before.address.includes(`${method}`) && link.address.includes(`${method}`)))
        kinds.set(kind, link)
    }
  }
  expect(kinds.size).toBeGreaterThan(20)
  for (const { address, section, text } of kinds.values()) {
    const answer = await guest.get(address)
    expect([address, section, answer.status]).toEqual([address, section, 200])
    const own = answer.text.split(`<h2 id="${section}"`)[1]?.split('</section>')[0] ?? ''
    expect([address, section, own.length > 0]).toEqual([address, section, true])
    if (['matched', 'steady'].includes(section) && /^\d+\.\d+$/.test(text)) expect(plain(own)).toContain('kg per m²')
  }
})

it('a gap is the difference of two methods’ figures, and each page leads to the other’s', async () => {
  const html = (await wholeCompare(guest, `${base}/compare`)).text
  const gaps = linksIn(html).filter((one) => one.table === f.whyTitle)
  expect(gaps.length).toBe(6 * (record.methods.length - 1))
  const [first] = gaps
  const asked = new URLSearchParams(first?.address.split('?')[1])
  const figure = (method: string) => {
    const own = behind(first?.address.replace(asked.get('method') ?? '', method) ?? '').lines.crops[0]
    return (10 * (own?.numerator ?? 0)) / (own?.denominator ?? 1)
  }
  const gap = figure(asked.get('method') ?? '') - figure(asked.get('beside') ?? '')
  expect(first?.text.replace('−', '-')).toBe(`${gap > 0 ? '+' : ''}${gap.toFixed(2)}`)
  const page = (await guest.get(first?.address ?? '')).text
  const other = record.methods.find((one) => one.id === asked.get('beside'))?.name ?? ''
  expect(plain(page)).toContain(`here are those of ${other}. The rows behind ${other}`)
  const there = plain(new RegExp(`<a href="([^"]*)">The rows behind ${other}`).exec(page)?.[1] ?? '')
  expect(there).toContain(`method=${asked.get('beside')}`)
  expect((await guest.get(there)).status).toBe(200)
})

describe('in a group of one’s own', () => {
  let trial: Trial
  let rows: string
  let dug: string
  beforeAll(async () => {
    trial = await setUpTrial(place)
    const { keeper, gardens } = trial
    const week = `${trial.base}/weeks/2026-W05`
    const planting = plantingOf(trial, 'carrot', 'Lower Terrace')
    const weighed = { plantingId: planting, harvestedOn: '2026-01-28', source: 'paper', why: 'forked' }
    await keeper.post(`${week}/harvests`, { id: newId(), ...weighed, marketable: '3.5 kg', unmarketable: '0.25 kg' })
    const both = { shareRule: 'equal', task: 'weeding', time: '1:01', gardenIds: [gardens.lower, gardens.bank] }
    await keeper.post(`${week}/shared-hours`, { id: newId(), ...both })
    await keeper.post(`${week}/hours`, { id: newId(), place: `planting:${planting}`, task: 'harvest', time: '0:20' })
    const lost = { lostOn: '2026-01-29', percent: '25', cause: 'pest', outside: 'no', alsoNextDoor: 'no' }
    await keeper.post(`${week}/losses`, { id: newId(), plantingId: planting, ...lost })
    const compare = (await wholeCompare(keeper, `${trial.base}/compare`)).text
    rows = linksIn(compare).find((one) => one.section === 'plantings')?.address ?? ''
    dug = new URLSearchParams(rows.split('?')[1]).get('method') ?? ''
  })

  it('each kilogram and minute leads to its week, and to its correction for those who may', async () => {
    const { text } = await trial.keeper.get(rows)
    expect(text).toContain(
      `<a href="${trial.base}/weeks/2026-W05#weights">2026-W05</a>, 28 January 2026: 3.5 kg, and 0.250 kg not marketable`,
    )
    expect(rowOf(text, 'carrot, Kestrel').slice(1, 6)).toEqual([
      'Lower Terrace, Bed 1',
      '4.0 m²',
      '3.5 kg',
      '0.250 kg',
      '1.0 m²',
    ])
    const hours = text.split('<h2 id="hours"')[1]?.split('</section>')[0] ?? ''
    expect(hours).toContain(`${trial.base}/weeks/2026-W05#hours`)
    // 61 minutes in equal parts over two gardens: the first has the odd one.
    const parts = [...hours.matchAll(/<tbody>([\s\S]*?)<\/tbody>/g)][0]?.[1] ?? ''
    const cells = (parts.match(/<tr[\s\S]*?<\/tr>/g) ?? []).map((row) => plain(row))
    expect(cells.some((row) => /61 one garden’s part of shared work (30|31) /.test(row))).toBe(true)
    for (const kind of ['labour', 'harvests', 'losses', 'plantings', 'beds']) {
      const link = new RegExp(`href="(${trial.base}/correct/${kind}/[0-9a-f-]{36})"`).exec(text)?.[1] ?? ''
      expect([kind, (await trial.keeper.get(link)).status]).toEqual([kind, 200])
    }
  })

  it('a reader may look and is offered no correction, a recorder those of the diary; a stranger finds nothing', async () => {
    const reader = await place.joined(trial.keeper, 'reader')
    const seen = await reader.get(rows)
    expect(seen.status).toBe(200)
    expect(seen.text).not.toContain('/correct/')
    const recorder = await place.joined(trial.keeper, 'recorder')
    const recorded = (await recorder.get(rows)).text
    expect(recorded).toContain('/correct/harvests/')
    expect(recorded).not.toContain('/correct/plantings/')
    const stranger = await place.keeper()
    for (const ending of ['', '.json', '.csv']) {
      expect((await stranger.get(rows.replace('/rows?', `/rows${ending}?`))).status).toBe(404)
      expect((await reader.get(rows.replace('/rows?', `/rows${ending}?`))).status).toBe(200)
      const theirs = `/g/${stranger.slug}/compare/rows${ending}?season=all&method=${dug}`
      expect((await stranger.get(theirs)).status).toBe(404)
    }
  })

  it('nothing is there for an id that is none of the group’s, whatever stands in the address', async () => {
    const strange = ['', newId(), 'x', "' or 1=1 --", '%00', '..', '__proto__', 'a'.repeat(5000)]
    for (const value of strange) {
      const words = encodeURIComponent(value)
      for (const query of [
        `method=${words}`,
        `method=${dug}&season=${words || 'x'}`,
        `garden=${words}`,
        `bed=${words}`,
      ]) {
        expect([query, (await trial.keeper.get(`${trial.base}/compare/rows?${query}`)).status]).toEqual([query, 404])
      }
    }
    const twice = `${trial.base}/compare/rows?method=${dug}&method=${dug}`
    expect((await trial.keeper.get(twice)).status).toBe(404)
    for (const odd of ['crop=%00', 'task=none', 'cause[]=x', `beside=${dug}`, 'by=xyz', 'outsideMethod=perhaps']) {
      expect([odd, (await trial.keeper.get(`${rows}&${odd}`)).status]).toEqual([odd, 200])
    }
    expect((await trial.keeper.get(`${rows}&beside=${newId()}`)).status).toBe(404)
    expect((await trial.keeper.get(rows.replace('/rows?', '/rows.csv?table=people&'))).status).toBe(404)
  })

  it('keeps to a crop, a garden, a bed; and says so', async () => {
    const text = async (more: string) => plain((await trial.keeper.get(`${rows}&${more}`)).text)
    expect(await text('crop=carrot%2C+Kestrel')).toContain('Only carrot, Kestrel. All rows')
    expect(await text('crop=potato')).not.toContain('3.5 kg')
    expect(await text('task=weeding')).toContain('Only weeding.')
    expect(await text(`garden=${trial.gardens.lower}`)).toContain('Only in Lower Terrace.')
    const elsewhere = await text(`garden=${trial.gardens.bank}`)
    expect(elsewhere).toContain('No ground lies here in this season')
    const alone = plain((await trial.keeper.get(`${trial.base}/compare/rows?garden=${trial.gardens.lower}`)).text)
    expect(alone).toContain('The rows behind Lower Terrace, 2025/26')
  })

  it('a season in which the method lies nowhere says that nothing counts', async () => {
    const season = newId()
    const year = { id: season, name: '2026/27', startsOn: '2026-08-01', endsOn: '2027-05-31' }
    await trial.keeper.post(`${trial.base}/seasons`, year)
    const empty = await trial.keeper.get(`${trial.base}/compare/rows?season=${season}&method=${dug}`)
    expect([empty.status, plain(empty.text).includes('No ground lies here in this season')]).toEqual([200, true])
  })

  it('the same rows as files, in whole units', async () => {
    const json = rows.replace('/rows?', '/rows.json?')
    const found = await trial.keeper.json<{ plantings: Record<string, unknown>[]; hours: Record<string, unknown>[] }>(
      json,
    )
    expect(found.plantings.find((one) => one.crop === 'carrot')).toMatchObject({ marketable_g: 3500, standing: 1 })
    expect(found.hours.map((one) => one.part_min).sort()).toEqual(expect.arrayContaining([20]))
    expect(JSON.stringify(found)).not.toContain('"who"')
    const csv = (await trial.keeper.get(rows.replace('/rows?', '/rows.csv?table=weighings&'))).text
    expect(csv.split('\r\n').slice(0, 2)).toEqual([
      'entry,planting,week,day,marketable_g,unmarketable_g,shared,cut',
      expect.stringMatching(/^[0-9a-f-]{36},[0-9a-f-]{36},2026-W05,2026-01-28,3500,250,0,$/),
    ])
  })

  it('a report has no way in, shared or not, frozen or live', async () => {
    for (const keeps of ['frozen', 'live']) {
      const id = newId()
      const fields = {
        id,
        title: keeps,
        words: '',
        season: trial.season,
        sections: [...sectionKeys],
        keeps,
        step: 'finish',
      }
      expect((await trial.keeper.post(`${trial.base}/reports`, fields)).status).toBe(303)
      const own = (await trial.keeper.get(`${trial.base}/reports/${id}`)).text
      const made = await trial.keeper.post(`${trial.base}/reports/${id}/links`, { endsOn: '', passphrase: '' })
      const shared = (await place.guest().get(/\/r\/[\w-]+/.exec(made.text)?.[0] ?? '')).text
      for (const text of [own, shared]) {
        expect(text).toContain(c.matched)
        expect(text).not.toMatch(/to-rows|compare\/rows/)
      }
    }
  })
})
