import { readFileSync } from 'node:fs'
import { everyWay } from '../../../src/comparison/matched/every-way.ts'
import { overSeasons } from '../../../src/comparison/matched/over-seasons.ts'
import { trialRecord } from '../../../src/comparison/record/trial-record.queries.ts'
import { asMember } from '../../../src/db/transaction.ts'
import { Client } from '../../support/app.ts'
import { password } from '../large-group.ts'
import { bareClient, type Ground } from './ground.ts'
import { type Tell, timed, turnAbout } from './taken.ts'

/** The record and its pages: beside the database's own sums, or beside a page that shows nothing. */
export async function pages(ground: Ground, tell: Tell): Promise<void> {
  const { app, database, group, keeper, base, page, fresh, unsummed } = ground
  const guest = new Client(app)
  await guest.post('/sign-up', { name: 'Bo Fen', email: 'bo@example.org', password })
  const example = (await guest.post('/demo/copy')).location
  // What was just copied is said once: a page that says it is not kept.
  await guest.get(example)
  const bare = await bareSums(ground)
  const record = () =>
    asMember(database, { personId: group.personId, groupId: group.groupId, readOnly: true }, (tx) =>
      trialRecord(tx, group.groupId, 'sums'),
    )
  const beside = async (
    work: string,
    against: string,
    most: number | null,
    one: () => Promise<unknown>,
    other: () => Promise<unknown>,
  ) => tell({ work, against, most, found: await turnAbout(timed(one), timed(other)) })
  const empty = page(`${base}/empty`)
  const compare = page(`${base}/compare?season=all`)
  const garden = (await keeper.get(`${base}/gardens`)).text.match(/\/gardens\/[0-9a-f-]{36}/)?.[0] ?? ''
  const season = (await keeper.get(`${base}/seasons`)).text.match(/\/seasons\/[0-9a-f-]{36}/)?.[0] ?? ''
  await beside('the record read, ten years', 'bare SQL sums', 1.5, record, bare.run)
  await beside('Compare, nothing kept, ten years', 'bare SQL sums', 6, fresh(compare), bare.run)
  await beside('the record read, no sums kept either', 'bare SQL sums', null, unsummed(record), bare.run)
  await beside('Compare, no sums kept either', 'bare SQL sums', 6, unsummed(compare), bare.run)
  const whole = fresh(page(`${base}/compare.json?season=all`))
  await beside('`compare.json`, nothing kept, ten years', 'bare SQL sums', 6, whole, bare.run)
  await beside(
    'Compare of the example, nothing kept',
    'an empty page',
    6,
    fresh(page(`${example}/compare?season=all`, guest)),
    page(`${example}/empty`, guest),
  )
  await beside('Compare again, nothing changed', 'an empty page', 2, compare, empty)
  const read = await record()
  const seasonIds = read.seasons.map((one) => one.id)
  const [methodA = '', methodB = ''] = read.methods.map((one) => one.id)
  // Another object each time: what was reckoned of the one before is kept with it.
  const counted = (work: typeof everyWay | typeof overSeasons) => async () =>
    void work({ ...read, plantings: [...read.plantings], assignments: [...read.assignments] }, seasonIds, {
      methodA,
      methodB,
    })
  await beside('all ways of counting', 'one way', 3, counted(everyWay), counted(overSeasons))
  const ofGroup = [
    ['Week', 4, '/weeks/2025-W30'],
    ['Home', 3, ''],
    ['Season', 4, season],
    ["a garden's year", 5, garden],
  ] as const
  for (const [work, most, path] of ofGroup) await beside(work, 'an empty page', most, page(`${base}${path}`), empty)
  // The first opening after a change of the group: its record is read anew where a page rests on it.
  for (const [work, , path] of ofGroup)
    await beside(`${work}, nothing kept`, 'an empty page', null, fresh(page(`${base}${path}`)), empty)
  await bare.close()
}

/** A page that shows nothing, within the layout of a group. */
export const withEmptyPage = (app: Ground['app']) =>
  app.get('/g/:group/empty', { config: { access: 'reader' } }, (_request, reply) =>
    reply.page('reports/draft', { title: 'Empty', form: null }, { title: 'Empty', bare: true }),
  )

/** The kept file of sums through the driver alone, its rows fetched. */
async function bareSums({ url, group }: Ground) {
  const client = await bareClient(url)
  const statements = readFileSync(new URL('../summed.sql', import.meta.url), 'utf8')
    .split(/;\n/)
    .filter((one) => one.includes('select'))
  return {
    run: async () => {
      for (const text of statements) await client.query({ text, values: [group.groupId], rowMode: 'array' })
    },
    close: () => client.end(),
  }
}
