import { newId } from '../../src/db/new-id.ts'
import type { Client, Place } from './app.ts'
import { plain } from './page-checks.ts'

export interface Trial {
  readonly keeper: Client
  readonly base: string
  readonly season: string
  /** By the label of the choice on the Week page. */
  readonly plantings: Record<string, string>
  readonly gardens: Record<string, string>
}

/** Two gardens under two methods with one matched crop, set up through the pages as a keeper would. */
export async function setUpTrial(place: Place): Promise<Trial> {
  const keeper = await place.keeper()
  const base = `/g/${keeper.slug}`
  const [site, dug, mulched, lower, bank, season] = [newId(), newId(), newId(), newId(), newId(), newId()]
  const add = (form: string, fields: Record<string, unknown>) => keeper.post(`${base}/gardens/${form}`, fields)
  await add('sites', { id: site, name: 'Quern Hill' })
  await add('methods', { id: dug, name: 'Dug every spring', workingRules: 'One spit deep, each spring.' })
  await add('methods', { id: mulched, name: 'Compost mulch' })
  await add('gardens', { id: lower, siteId: site, name: 'Lower Terrace', grossAreaCm2: '6 x 5' })
  await add('gardens', { id: bank, siteId: site, name: 'Long Bank', grossAreaCm2: '40' })
  await add('beds', { id: newId(), gardenId: lower, count: '2', areaCm2: '10', name: 'Bed' })
  await add('beds', { id: newId(), gardenId: bank, count: '2', areaCm2: '1,5 x 10', name: 'Bed' })
  const year = { id: season, name: '2025/26', startsOn: '2025-08-01', endsOn: '2026-05-31' }
  await keeper.post(`${base}/seasons`, year)
  const assign = { phase: 'established', yearOfMethod: '3', how: 'choice' }
  await keeper.post(`${base}/seasons/${season}/assignments`, {
    id: newId(),
    place: `garden:${lower}`,
    methodId: dug,
    ...assign,
  })
  await keeper.post(`${base}/seasons/${season}/assignments`, {
    id: newId(),
    place: `garden:${bank}`,
    methodId: mulched,
    ...assign,
  })
  const page = (await keeper.get(`${base}/seasons/${season}`)).text
  const choices = choicesIn(page)
  const beds = { [lower]: choices(`beds[${lower}]`)['Bed 1'] ?? '', [bank]: choices(`beds[${bank}]`)['Bed 1'] ?? '' }
  const crop = choices('cropId')
  const planted = { sownOn: '2025-10-01', areaCm2: '4', how: 'direct', purpose: 'harvest' }
  for (const [name, cultivar] of [
    ['carrot', 'Kestrel'],
    ['potato', 'Heron'],
  ] as const) {
    const fields = { id: newId(), cropId: crop[name], cultivar, ...planted, beds }
    await keeper.post(`${base}/seasons/${season}/plantings`, fields)
  }
  const week = (await keeper.get(`${base}/weeks/2026-W05/ledger`)).text
  return { keeper, base, season, plantings: choicesIn(week)('plantingId'), gardens: { lower, bank } }
}

/** The choices of the first select of a name, the blank one aside: label to value. */
export function choicesIn(html: string): (name: string) => Record<string, string> {
  return (name) => {
    const select = html.split(`name="${name}"`)[1]?.split('</select>')[0] ?? ''
    const options = [...select.matchAll(/<option value="([^"]+)"[^>]*>([^<]*)/g)]
    return Object.fromEntries(options.map((option) => [plain(option[2] ?? ''), option[1] ?? '']))
  }
}

export function plantingOf(trial: Trial, crop: string, garden: string): string {
  const label = Object.keys(trial.plantings).find((name) => name.startsWith(crop) && name.includes(garden))
  return trial.plantings[label ?? ''] ?? ''
}
