import type { FastifyRequest } from 'fastify'
import { pictureKeys } from '../comparison/pictures/picture-keys.ts'
import { newId } from '../db/new-id.ts'
import { seasonsOf } from '../seasons/seasons.queries.ts'
import { textAsked } from '../web/query-of.ts'
import { wordsHere } from '../web/words-here.ts'
import { firstPictures, picturesIn, takes } from './pictures.ts'
import { reportOf } from './reports.queries.ts'
import { firstSections } from './sections.ts'

/** The form: what was typed, else the report that is to be followed, else an empty one. */
export async function formPage(
  request: FastifyRequest,
  typed: Readonly<Record<string, unknown>> | null,
  errors: Readonly<Record<string, string>>,
) {
  const { group } = request.member
  const after = textAsked(request, 'after')
  const found = await request.read(async (tx) => ({
    seasons: await seasonsOf(tx, group.id),
    earlier: typed || !after ? undefined : await reportOf(tx, group.id, after),
  }))
  const { seasons, earlier } = found
  const chosen = { sections: [...firstSections], pictures: [...firstPictures], keeps: 'frozen' }
  // As Compare opens: a season that runs has little to say yet.
  const season = (seasons.findLast((one) => one.closedAt !== null) ?? seasons.at(-1))?.id ?? 'all'
  const fresh = { id: newId(), season, ...chosen }
  const following = earlier && {
    ...fresh,
    after: earlier.id,
    title: earlier.title,
    words: earlier.words,
    season: earlier.season,
    sections: earlier.sections,
    pictures: picturesIn(earlier.pictures),
    keeps: earlier.keeps,
    rowsAgreed: earlier.rowsAgreed ? 'yes' : '',
  }
  return {
    typed: typed ?? following ?? fresh,
    errors,
    pictureChoices: pictureKeys.map((key) => ({ key, take: takes(key) })),
    seasonChoices: [
      ...seasons.map(({ id, name }) => ({ value: id, label: name })),
      { value: 'all', label: wordsHere().comparison.allSeasons },
    ],
  }
}
