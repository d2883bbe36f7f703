import { changesCounted } from '../accounts/saved.queries.ts'
import { comparePage } from '../comparison/compare.page.ts'
import { type Asking, plainly, tableAsked } from '../comparison/compare.routes.ts'
import type { PictureKey } from '../comparison/pictures/picture-keys.ts'
import { unitsOfFigures } from '../comparison/rows/figures-csv.ts'
import { decidedTold } from '../decisions/decided-told.ts'
import { decisionsOf } from '../decisions/decisions.queries.ts'
import { choicesOfFigures, recordAsked } from '../decisions/outcomes.queries.ts'
import { Problem } from '../web/problem.ts'
import { gardensTold } from './gardens-told.queries.ts'
import type { Contents } from './report.page.ts'
import { tablesBehind } from './rows.queries.ts'
import { toldFigures } from './told-figures.ts'

const readings = 4

interface Wanted {
  readonly rows: boolean
  readonly pictures: readonly PictureKey[]
  /** Whether what was decided stands on it: own words of a group go out only where they are wanted. */
  readonly decided: boolean
}

/**
 * Everything that a report shows, as the record stands now, with the change number it was computed at. Read again where
 * somebody wrote meanwhile, so that the number is true of all of it.
 */
export async function figuresOfToday(
  request: Asking,
  season: string,
  { rows, pictures: wanted, decided: isDecided }: Wanted,
) {
  const { group } = request.member
  // What a report counts is not the reader's to choose: the choices that Compare reads from its address are left aside.
  const plain = plainly(request)
  const number = () => request.read((tx) => changesCounted(tx, group.id))
  for (let left = readings; left > 0; left--) {
    const before = await number()
    const asked = await tableAsked(plain, season)
    const { table, said, replicated, seasons, chosen, figuresOf, tablesOf, summary } = asked
    const counted = seasons.filter((one) => chosen === 'all' || one.id === chosen)
    const seasonIds = counted.map((one) => one.id)
    const gardens = await request.readAtOnce((tx) => gardensTold(tx, group.id, seasonIds))
    const told = { ...gardens, changedAfterClosing: counted.reduce((sum, one) => sum + one.changedSince, 0) }
    const otherIds = said.others.map((one) => one.id)
    const pictures = wanted.length > 0 ? { pictures: await figuresOf({ otherIds, wanted }) } : {}
    const behind = rows ? await request.readAtOnce((tx) => tablesBehind(tx, group.id, seasonIds)) : null
    const decided = isDecided ? { decided: await decidedIn(request, seasonIds) } : {}
    const further = await tablesOf()
    if ((await number()) !== before) continue
    const { name, locale, timeZone, currency } = group
    const page = { ...comparePage(table, locale, currency), said, replicated }
    const about = { group: name, locale, timeZone, currency, seasons: counted.map((one) => one.name) }
    const ground = toldFigures(told)
    const tables = { ...further, ...(ground ? { ground } : {}) }
    const contents: Contents = {
      page,
      table,
      tables,
      units: unitsOfFigures(),
      told,
      summary,
      ...about,
      ...pictures,
      ...decided,
    }
    return { contents, rows: behind, dataCutOff: before }
  }
  throw new Problem('changed-meanwhile')
}

function decidedIn(request: Asking, seasonIds: readonly string[]) {
  const { id } = request.member.group
  return request.readAtOnce(async (tx) => {
    const decided = (await decisionsOf(tx, id)).filter((one) => seasonIds.includes(one.seasonId))
    // What it is told with is the whole record.
    if (decided.length === 0) return []
    const given = { asked: await recordAsked(tx, request), choices: await choicesOfFigures(tx, id) }
    return decidedTold(decided, seasonIds, given)
  })
}

/** What the checksum is of, and what stands under `figures` in the JSON of a report. */
export const figuresIn = ({ table, tables, units, currency, pictures, summary, decided }: Contents) => ({
  currency,
  units,
  ...table,
  ...(tables ? { tables } : {}),
  ...(pictures ? { pictures } : {}),
  ...(summary ? { summary } : {}),
  ...(decided ? { decided } : {}),
})
