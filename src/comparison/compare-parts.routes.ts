import type { FastifyInstance, FastifyRequest } from 'fastify'
import { drawnName } from '../web/drawn-files.ts'
import { notFound } from '../web/problem.ts'
import { queryOf } from '../web/query-of.ts'
import { wordsFor } from '../words/locales.ts'
import { comparePage, measuringShown, rowsShown } from './compare.page.ts'
import {
  choicesKept,
  compareLinks,
  framed,
  type PartKey,
  partKeys,
  saysMore,
  seasonIn,
  type TableAsked,
  tableAsked,
} from './compare.routes.ts'
import { findingsTold } from './findings/findings-told.page.ts'
import { comparePictures, pictureSource } from './pictures/compare-pictures.page.ts'
import type { PictureKey } from './pictures/picture-keys.ts'
import { seasonsAmong } from './record/trial-record.ts'

/** A page for each question about the comparison, and its pictures as files. */
export function comparePartRoutes(app: FastifyInstance): void {
  const config = { access: 'reader', costly: true, fromReplica: true } as const

  app.get<{ Params: { part: string } }>(
    '/g/:group/compare/:part',
    { config: { ...config, keepsPage: true } },
    async (request, reply) => {
      const part = partKeys.find((key) => key === request.params.part)
      if (!part || part === 'side') throw notFound()
      const asked = await tableAsked(request, seasonIn(request))
      const page = { ...framed(request, asked, part), ...(await partShown(request, asked, part)) }
      const words = wordsFor(request.member.group.locale)
      return reply.page('comparison/part', page, { title: words.comparison.partNames[part] })
    },
  )

  app.get<{ Params: { part: string; picture: string } }>(
    '/g/:group/compare/:part/:picture',
    { config },
    async (request, reply) => {
      const part = partKeys.find((key) => key === request.params.part)
      const named = drawnName(request.params.picture)
      if (!part || !named) throw notFound()
      const asked = await tableAsked(request, seasonIn(request))
      const picture = (await drawnOf(request, asked, part)).find((one) => one.id === named.id)
      if (!picture) throw notFound()
      const { name, locale } = request.member.group
      return reply.drawn(
        picture,
        named.ending,
        pictureSource(name, seasonsAmong(asked.record, asked.seasonIds), locale),
      )
    },
  )
}

/** Which pictures stand on which part. */
const picturesOf: Record<PartKey, readonly PictureKey[]> = {
  side: [],
  seasons: ['seasons'],
  crops: ['crops'],
  why: ['gap'],
  work: ['running', 'labour'],
  losses: ['losses'],
  otherwise: ['ways'],
  doubts: [],
  layout: [],
}

/** The pictures of one part. */
async function drawnOf({ member }: FastifyRequest, { beside, figuresOf }: TableAsked, part: PartKey) {
  const wanted = picturesOf[part]
  const figures = wanted.length === 0 ? [] : await figuresOf({ otherIds: beside === null ? [] : [beside], wanted })
  return comparePictures(figures, member.group.locale).map((one) => one.picture)
}

/** The findings of one pair: of all of them together nobody reads any. */
function ofPair(said: TableAsked['said'], beside: string | null): TableAsked['said'] {
  const other = said.others.find((one) => one.id === beside)?.name
  return { ...said, found: said.found.filter((one) => one.methodB === other) }
}

/** One part of the comparison: its pictures, and what the tables under them read. */
async function partShown(request: FastifyRequest, asked: TableAsked, part: PartKey) {
  const { table, said, beside, replicated, measuring, otherwise } = asked
  const { locale, currency, slug } = request.member.group
  const paired = ['seasons', 'crops', 'why', 'otherwise', 'doubts'].includes(part)
  const told = findingsTold(part === 'doubts' ? ofPair(said, beside) : said, locale)
  const none = { seasons: null, gaps: [], perKg: [], ifOnly: null, losses: null, labour: null }
  const ofPart = {
    seasons: { seasons: told.seasons },
    why: { gaps: told.gaps, perKg: told.perKg, ifOnly: told.ifOnly },
    losses: { losses: told.losses },
    work: { labour: told.labour },
  } as Partial<Record<PartKey, object>>
  const shown = comparePage(table, locale, currency)
  return {
    ...shown,
    rows: rowsShown(shown.rows),
    measuring: measuringShown(measuring, locale),
    otherwise,
    matchedChoices,
    pictures: await drawnOf(request, asked, part),
    taken: {
      base: `/g/${slug}/compare/${part}`,
      query: `?${new URLSearchParams({ ...choicesKept(request), season: asked.chosen }).toString()}`,
    },
    besides: paired
      ? said.others.map((one) => ({
          label: one.name,
          address:
            `?${new URLSearchParams({ ...choicesKept(request), season: asked.chosen, beside: one.id }).toString()}` +
            (part === 'doubts' ? '#findings' : ''),
          current: one.id === beside,
        }))
      : [],
    beside,
    replicated: part === 'layout' && saysMore(replicated) ? replicated : null,
    asked: 'by' in queryOf(request),
    pairAsked: 'beside' in queryOf(request),
    said: { ...told, ...none, ...ofPart[part] },
    behind: compareLinks(request, asked),
  }
}

/** The rules of matched crops that an address may name. */
const matchedChoices = [
  { rule: 'weights', values: ['marketable', 'all'] },
  { rule: 'mix', values: ['pooled areas', 'equal parts'] },
  { rule: 'outside', values: ['counted', 'set left out'] },
] as const
