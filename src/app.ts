import { join } from 'node:path'
import Fastify, { type FastifyInstance, LogController } from 'fastify'
import { accountRoutes } from './accounts/accounts.routes.ts'
import { askedFactorRoutes } from './accounts/asked-factor.routes.ts'
import { groupRoutes } from './accounts/groups.routes.ts'
import { addGuard } from './accounts/guard.routes.ts'
import { invitationRoutes } from './accounts/invitations.routes.ts'
import { Kept } from './accounts/kept.ts'
import type { Mailing } from './accounts/letters.queries.ts'
import { letterRoutes } from './accounts/letters.routes.ts'
import { ownAccountRoutes } from './accounts/own-account.routes.ts'
import { passkeyRoutes } from './accounts/passkeys.routes.ts'
import { peopleRoutes } from './accounts/people.routes.ts'
import { resetRoutes } from './accounts/reset.routes.ts'
import { secondStepRoutes } from './accounts/second-step.routes.ts'
import { settingsRoutes } from './accounts/settings.routes.ts'
import { whoRoutes } from './accounts/who.routes.ts'
import { compareRoutes } from './comparison/compare.routes.ts'
import { comparePartRoutes } from './comparison/compare-parts.routes.ts'
import { figuresRoutes } from './comparison/figures.routes.ts'
import { rowsRoutes } from './comparison/rows.routes.ts'
import type { Database } from './db/database.ts'
import { lastMigration } from './db/migrating.ts'
import type { Replica } from './db/replica.ts'
import { compostRoutes } from './decisions/compost.routes.ts'
import { decisionsOf } from './decisions/decisions.queries.ts'
import { decisionRoutes } from './decisions/decisions.routes.ts'
import { dressingRoutes } from './decisions/dressing.routes.ts'
import { payBackRoutes } from './decisions/pay-back.routes.ts'
import { restartRoutes } from './decisions/restart.routes.ts'
import { seasonEndRoutes } from './decisions/season-end.routes.ts'
import { valueRoutes } from './decisions/value.routes.ts'
import { demoRoutes, exampleShown } from './demo/demo.routes.ts'
import { containerCorrections } from './diary/container-corrections.routes.ts'
import { diaryCorrections } from './diary/corrections.routes.ts'
import { daysWritten } from './diary/days-written.queries.ts'
import { firstPicked, whollyLost } from './diary/first-picked.queries.ts'
import { labelRoutes } from './diary/labels.routes.ts'
import { ledgerRoutes } from './diary/ledger.routes.ts'
import { seedSaved } from './diary/lots.queries.ts'
import { restated } from './diary/restated.queries.ts'
import { sheetRoutes } from './diary/sheet.routes.ts'
import { minutesByDelivery } from './diary/week.queries.ts'
import { weekRoutes } from './diary/week.routes.ts'
import { weighingCorrections } from './diary/weighing.routes.ts'
import { keepKnown } from './diary/writing.routes.ts'
import { bringInRoutes } from './exchange/bring-in.routes.ts'
import { endingRoutes } from './exchange/ending.routes.ts'
import { exchangeRoutes } from './exchange/exchange.routes.ts'
import { historyRoutes } from './exchange/history.routes.ts'
import { rowsBackRoutes } from './exchange/rows-back.routes.ts'
import { rowsInRoutes } from './exchange/rows-in.routes.ts'
import { gardenCorrections } from './gardens/corrections.routes.ts'
import { gardenRoutes } from './gardens/gardens.routes.ts'
import { homeRoutes } from './home/home.routes.ts'
import { seasonCloseRoutes } from './home/season-close.routes.ts'
import { settingUpRoutes } from './home/setting-up.routes.ts'
import { undoRoutes } from './home/undo.routes.ts'
import { inputCorrections } from './inputs/corrections.routes.ts'
import { inputRoutes } from './inputs/inputs.routes.ts'
import { loadCorrections } from './inputs/load-corrections.routes.ts'
import { manureWaitsOf } from './inputs/manure.queries.ts'
import { moneyWritten } from './inputs/money-written.queries.ts'
import { noteCorrections } from './notes/corrections.routes.ts'
import { noteRoutes } from './notes/notes.routes.ts'
import { pictureRoutes } from './notes/pictures.routes.ts'
import { plantStandsOf } from './notes/plant-stands.queries.ts'
import { weatherRoutes } from './notes/weather.routes.ts'
import { weatherFigureRoutes } from './notes/weather-figures.routes.ts'
import { layoutRoutes } from './planning/layout.routes.ts'
import { nextSeasonAnswered, nextSeasonRoutes } from './planning/next-season.routes.ts'
import type { IsoDate } from './quantities/dates.ts'
import { guessRoutes } from './reports/guesses.routes.ts'
import { reportRoutes } from './reports/reports.routes.ts'
import { carryRoutes } from './seasons/carry.routes.ts'
import { closedOverGround, closedUnderMethod } from './seasons/closed-ground.queries.ts'
import { seasonCorrections } from './seasons/corrections.routes.ts'
import { cropRoutes } from './seasons/crops.routes.ts'
import { planRoutes } from './seasons/plan.routes.ts'
import { questionRoutes } from './seasons/question.routes.ts'
import { addFirstCrops, closedOn } from './seasons/seasons.queries.ts'
import { seasonRoutes } from './seasons/seasons.routes.ts'
import { plantingCorrections } from './setting-right/planting.routes.ts'
import { rearrangingRoutes } from './setting-right/rearranging.routes.ts'
import { againstTestsRoutes } from './soil/against-tests.routes.ts'
import { soilCorrections } from './soil/corrections.routes.ts'
import { soilFigureRoutes } from './soil/figures.routes.ts'
import { nutrientLedgerRoutes } from './soil/ledger.routes.ts'
import { limitRoutes } from './soil/limits.routes.ts'
import { organicRoutes } from './soil/organic.routes.ts'
import { soilRoutes } from './soil/soil.routes.ts'
import { closureCorrections } from './timeline/corrections.routes.ts'
import { gardenYearRoutes } from './timeline/garden.routes.ts'
import { groundRoutes } from './timeline/ground.routes.ts'
import { requireAccessDeclared } from './web/access.ts'
import { serveAssets } from './web/assets.ts'
import { addDrawnFiles } from './web/drawn-files.ts'
import { takeTurns } from './web/in-turn.ts'
import { keepPages } from './web/kept-pages.ts'
import { keptTexts } from './web/kept-texts.ts'
import { limitBodies, serverLimits, type TimeLimits, timeLimits } from './web/limits.ts'
import { loggable } from './web/logging.ts'
import { packAnswers } from './web/packed-answers.ts'
import { addPages } from './web/pages.ts'
import { passkeysAt } from './web/passkey.ts'
import { addProblemPages, answerUnreadable, unreadablePage } from './web/problems.ts'
import { type ProxiesTrusted, trusting } from './web/proxies.ts'
import { keepQuotas, type Quotas, usualQuotas } from './web/quotas.ts'
import { addSecurity } from './web/security.ts'
import { keepSecurityLog } from './web/security-log.ts'
import { addSignsOfLife } from './web/signs-of-life.ts'
import { serveWithoutSignal } from './web/without-signal.ts'

export interface AppOptions {
  readonly database: Database
  readonly root: string
  readonly secureCookies: boolean
  readonly trustProxy: ProxiesTrusted
  readonly demo: boolean
  /** The day that the example is made for; today where none is given. */
  readonly demoDay?: IsoDate | undefined
  /** Whether the example's two reports are made too; they are, where nothing is said. */
  readonly demoReports?: boolean | undefined
  readonly limits?: TimeLimits
  readonly quotas?: Partial<Quotas>
  /** A standby, which answers what may be read from it. */
  readonly replica?: Replica | null
  /** Where lines of the log go. */
  readonly logs?: { write(line: string): void }
  /** How letters leave; none do where nothing is set. */
  readonly mailing?: Mailing | null
  /** The address by which people reach the service; without it there are no passkeys. */
  readonly origin?: string | null
  /** Counts what is answered, before anything is. */
  readonly watch?: ((app: FastifyInstance) => void) | undefined
}

/** What is made of records may take so much memory. */
const bytesToKeep = 128 * 1024 * 1024
/** And finished pages so much. */
const bytesOfPages = 48 * 1024 * 1024

/** The table of contents: every chapter's routes, by hand. */
export async function buildApp(options: AppOptions): Promise<FastifyInstance> {
  const { database, root, secureCookies, trustProxy, demo } = options
  const { limits = timeLimits, mailing = null, origin = null } = options
  const logger = options.logs ? { level: 'info', stream: options.logs, serializers: { err: loggable } } : false
  let unread = ''
  const app = Fastify({
    trustProxy: trusting(trustProxy),
    logger,
    logController: new LogController({ disableRequestLogging: true }),
    return503OnClosing: false,
    frameworkErrors: (_error, _request, reply) => answerUnreadable(reply, unread),
    ...serverLimits(limits),
  })
  keepQuotas(app, { ...usualQuotas, ...options.quotas })
  options.watch?.(app)
  keepSecurityLog(app)
  limitBodies(app, limits)
  const views = join(root, 'views')
  requireAccessDeclared(app)
  await addSecurity(app, { secureCookies })
  packAnswers(app)
  const kept = new Kept(bytesToKeep)
  addGuard(app, database, { demo, secureCookies, kept, replica: options.replica ?? null })
  keepKnown(app)
  // What is kept takes no turn among what is costly to make.
  keepPages(app, new Kept(bytesOfPages))
  takeTurns(app, ({ member }) => member.group.id)
  const assets = serveAssets(app, views)
  await addPages(app, views, assets)
  addDrawnFiles(app, views)
  await serveWithoutSignal(app, assets, views)
  unread = await unreadablePage(app)
  addProblemPages(app)

  addSignsOfLife(app, database, lastMigration(join(root, 'migrations')))
  const passkeysHere = passkeysAt(origin)
  const withPasskeys = passkeysHere.kind === 'offered'
  const example = () => exampleShown(database, { demo, kept })
  accountRoutes(app, database, { secureCookies, demo, withPasskeys, example })
  ownAccountRoutes(app, database, { secureCookies, mailing, withPasskeys })
  letterRoutes(app, database)
  whoRoutes(app, database)
  secondStepRoutes(app, database, { secureCookies, withPasskeys, mailing })
  passkeyRoutes(app, database, { secureCookies, mailing, passkeysHere })
  resetRoutes(app, database, { mailing })
  groupRoutes(app, database, { furnish: addFirstCrops })
  invitationRoutes(app, database, { mailing, withPasskeys })
  askedFactorRoutes(app, database, { secureCookies, mailing, withPasskeys })
  peopleRoutes(app, database, { mailing })
  settingsRoutes(app, database, { moneyWritten })
  gardenRoutes(app, { closedOn })
  gardenCorrections(app, { closedOverGround, closedUnderMethod })
  gardenYearRoutes(app)
  groundRoutes(app)
  seasonRoutes(app, { waits: manureWaitsOf, decided: decisionsOf, lost: whollyLost, written: daysWritten, seedSaved })
  closureCorrections(app)
  seasonCorrections(app, { restated })
  plantingCorrections(app)
  rearrangingRoutes(app)
  cropRoutes(app)
  planRoutes(app, { picked: firstPicked, stands: plantStandsOf })
  carryRoutes(app)
  questionRoutes(app)
  layoutRoutes(app)
  nextSeasonRoutes(app)
  weekRoutes(app)
  ledgerRoutes(app)
  labelRoutes(app)
  sheetRoutes(app)
  diaryCorrections(app)
  containerCorrections(app)
  weighingCorrections(app)
  soilRoutes(app)
  nutrientLedgerRoutes(app)
  againstTestsRoutes(app)
  organicRoutes(app)
  soilFigureRoutes(app)
  soilCorrections(app)
  limitRoutes(app)
  noteRoutes(app)
  noteCorrections(app)
  pictureRoutes(app)
  weatherRoutes(app)
  weatherFigureRoutes(app)
  figuresRoutes(app)
  compareRoutes(app)
  comparePartRoutes(app)
  rowsRoutes(app)
  inputRoutes(app, { carried: minutesByDelivery })
  inputCorrections(app)
  loadCorrections(app)
  decisionRoutes(app)
  dressingRoutes(app)
  compostRoutes(app)
  restartRoutes(app)
  payBackRoutes(app)
  valueRoutes(app)
  seasonEndRoutes(app, { nextSeason: nextSeasonAnswered })
  exchangeRoutes(app, database)
  historyRoutes(app)
  rowsInRoutes(app, database)
  rowsBackRoutes(app)
  bringInRoutes(app, database)
  endingRoutes(app, database, { mailing })
  guessRoutes(app)
  reportRoutes(app, database, { secureCookies, scriptParts: keptTexts(join(root, 'recompute'), 'R') })
  homeRoutes(app)
  settingUpRoutes(app)
  seasonCloseRoutes(app)
  undoRoutes(app)
  demoRoutes(app, database, { demo, demoDay: options.demoDay, demoReports: options.demoReports })
  return app
}
