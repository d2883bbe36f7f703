import { byName } from '../../words/by-name.ts'
import type { Words } from '../../words/catalogue.ts'
import { wordsFor } from '../../words/locales.ts'
import type { CountingRules } from '../matched/matched-season.ts'
import type { Picture, PictureTold } from './picture.ts'
import type { PictureFigures, WaysFigures } from './picture-figures.page.ts'
import type { PictureKey } from './picture-keys.ts'
import { cropRatiosPicture, everyWayPicture, gapPicture, seasonRatiosPicture, yieldsPicture } from './pictures.page.ts'
import { labourPictures, lossesPicture, runningLabourPicture } from './season-pictures.page.ts'

interface Drawn {
  readonly key: PictureKey
  readonly picture: Picture
}

/** The pictures of these figures in the words of a locale, each with ids of its own. */
export function comparePictures(figures: readonly PictureFigures[], locale: string): Drawn[] {
  return figures.flatMap((one, i) => {
    const before = figures.slice(0, i).filter((other) => other.picture === one.picture).length
    const id = `picture-${one.picture}${before === 0 ? '' : `-${before + 1}`}`
    return drawn(one, { id, locale }).map((picture) => ({ key: one.picture, picture }))
  })
}

/** What stands below a picture that is taken away: whose it is, and over which seasons. */
export const pictureSource = (group: string, seasons: readonly { readonly name: string }[], locale: string) =>
  wordsFor(locale).pictures.takenFrom(group, seasons.map((one) => one.name).join(', '))

function drawn(figures: PictureFigures, told: PictureTold): Picture[] {
  const words = wordsFor(told.locale)
  switch (figures.picture) {
    case 'yields': {
      const noInterval = words.findings.noneOfOneGarden
      const rows = figures.methods.map(({ method, kgPerM2 }) => ({ method, value: kgPerM2, noInterval }))
      return [yieldsPicture(rows, told)]
    }
    case 'seasons':
      return [seasonRatiosPicture(figures, told)]
    case 'ways':
      return [everyWayPicture(namedWays(figures, words), told)]
    case 'crops':
      return [cropRatiosPicture(figures, told)]
    case 'gap':
      return [gapPicture(figures, told)]
    case 'labour':
      return labourPictures(figures.labours, told)
    case 'running':
      return [runningLabourPicture(figures, told)]
    case 'losses': {
      const names = byName(words.diary.causes)
      const causes = figures.causes.map((one) => ({ ...one, cause: names[one.cause] ?? one.cause }))
      return [lossesPicture({ ...figures, causes }, told)]
    }
    // Kept by another version of the service.
    default:
      return []
  }
}

function namedWays({ ways, ...pair }: WaysFigures, words: Words) {
  const named = ({ weights, mix, outsideLosses }: CountingRules) => {
    const own = words.findings.ways
    return [own[weights], own[mix], own[outsideLosses]].join(', ')
  }
  return { ...pair, ways: ways.map(({ rules, ratio }, i) => ({ way: named(rules), ratio, first: i === 0 })) }
}
