import type { IsoDate } from '../quantities/dates.ts'
import { catalogue } from '../words/catalogue.ts'
import type { Answered } from './answered.ts'
import { dueForALook } from './due.ts'
import { toLog } from './to-log.ts'

const words = catalogue.deciding.seasonEnd

interface Given {
  readonly slug: string
  readonly currency: string
  readonly today: IsoDate
  readonly seasons: readonly { readonly name: string; readonly closedAt: Date | null; readonly endsOn: IsoDate }[]
  readonly decisions: readonly {
    readonly id: string
    readonly decision: string
    readonly lookAgainOn: IsoDate | null
    readonly happened: string | null
  }[]
}

const addressOf: Record<Answered['key'], string> = {
  methods: 'compare?season=all',
  compost: 'decide/compost',
  restart: 'decide/restart',
  payBack: 'decide/pay-back',
  nextSeason: 'decide/next-season',
}

/**
 * The answers in their order, each with the way to its page and into the log; what was decided and is due comes first.
 */
export function seasonEndPage(answers: readonly Answered[], { slug, currency, today, seasons, decisions }: Given) {
  const base = `/g/${slug}`
  const ended = seasons.findLast((season) => season.endsOn < today)
  return {
    season: ended ? { name: ended.name, closed: ended.closedAt !== null } : null,
    due: dueForALook(decisions, today).map(({ id, decision }) => ({
      decision,
      address: `${base}/decisions#decision-${id}`,
    })),
    answers: answers.map(({ handed, ...one }) => {
      const address = `${base}/${addressOf[one.key]}`
      const question = one.about ?? words.questions[one.key]
      const said = one.answer === null ? null : { ...handed, question, finding: one.answer, from: address }
      return { ...one, address, logAddress: said && toLog({ slug, currency }, said) }
    }),
  }
}
