import { formatNumber } from '../quantities/formatting.ts'
import { catalogue } from '../words/catalogue.ts'
import { calibration } from './findings/calibration.ts'
import { layoutCalibration } from './findings/layout-calibration.ts'

const words = catalogue.figures
const yesOrNo = catalogue.seasons.yesOrNo

/** The calibration table as it is read: shares in per cent, a dash where one season gives no interval. */
export function figuresPage(locale: string) {
  const percent = (share: number) => `${formatNumber(100 * share, locale, 1)} %`
  return {
    trials: formatNumber(calibration[0]?.[5] ?? 0, locale, 0),
    layouts: layoutCalibration.map((line) => [
      ...[words.layoutNames[line.layout], words.layoutHows[line.how], String(line.units), String(line.seasons)],
      formatNumber(line.effect ? 1.2 : 1, locale, 2),
      ...[line.holds, line.finds, line.predicted].map(percent),
    ]),
    lines: calibration.map(([crops = 0, seasons = 0, times, losses, effect, trials = 1, refused = 0, ...shares]) => [
      ...[String(crops), String(seasons), times === 2 ? words.twice : words.once],
      ...[losses ? yesOrNo.yes : yesOrNo.no, formatNumber(effect ? 1.2 : 1, locale, 2)],
      ...shares.map((share) => (refused === trials ? '–' : percent(share))),
      percent(refused / trials),
    ]),
  }
}
