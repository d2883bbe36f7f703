import { z } from 'zod'
import { pictureKeys } from '../comparison/pictures/picture-keys.ts'
import { isOneOf } from '../lookups/keys.ts'
import { choice, optional, optionalDate, optionalText, said, text, uuid, wholeNumber } from '../web/fields.ts'
import { wordsHere } from '../web/words-here.ts'
import { picturesIn } from './pictures.ts'
import { sectionKeys } from './sections.ts'

const isPicture = (typed: unknown) => isOneOf(pictureKeys, typed)
const listed = (typed: unknown) => [typed ?? []].flat().filter((one) => one !== '')

/** What a keeper writes: kept as a draft, looked at first, or finished. */
export const reportForm = z.object({
  id: uuid(),
  version: optional(wholeNumber({ least: 0, most: 1_000_000 })),
  after: optional(uuid()),
  title: text({ most: 120 }),
  words: optionalText({ most: 5000 }),
  season: text({ most: 40 }),
  sections: z.preprocess(listed, z.array(choice(sectionKeys)).min(1, { error: () => wordsHere().reports.noSections })),
  pictures: z
    .preprocess(listed, z.array(z.unknown()))
    .refine(
      (typed) => typed.every(isPicture),
      said((w) => w.notChosen),
    )
    .transform(picturesIn),
  keeps: choice(['frozen', 'live']),
  rowsAgreed: choice(['yes']).optional(),
  step: choice(['preview', 'draft', 'finish']),
})

const leastPassphrase = 8

export const linkForm = z.object({
  endsOn: optionalDate(),
  passphrase: optionalText({ most: 200 }).refine((typed) => typed === null || typed.length >= leastPassphrase, {
    error: () => wordsHere().reports.shortPassphrase,
  }),
})

export const passphraseForm = z.object({ passphrase: text({ most: 200 }) })

/** The people who agreed to be named: all others of the group are written down as not. */
export const namesForm = z.object({ agreed: z.preprocess(listed, z.array(uuid())) })
