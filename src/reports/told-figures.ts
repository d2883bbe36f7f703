import { type FigureRow, type FigureRows, figureTable, rowsOf } from '../comparison/rows/figure-rows.ts'
import type { Told } from './told.ts'

/** Every figure of what is told about the ground: gardens, how long methods lay, and pickings soon after raw manure. */
export function toldFigures({ gardens, methods, tooSoon = [], changedAfterClosing }: Told): FigureRows | null {
  return figureTable(
    ['kind', 'of'],
    [
      ...gardens.flatMap(({ garden, grossAreaCm2, bedAreaCm2, beds, writers, mostAtOnce }) => [
        ...rowsOf(['garden', garden], 'cm2', { grossAreaCm2, bedAreaCm2 }),
        ...rowsOf(['garden', garden], '1', { beds, writers, mostAtOnce }),
      ]),
      ...methods.flatMap(({ method, seasons }): FigureRow[] => rowsOf(['method', method], '1', { seasons })),
      ...tooSoon.flatMap(({ planting, garden, waited, days }) =>
        rowsOf(['picked soon after raw manure', `${planting}, ${garden}`], 'd', { waited, days }),
      ),
      ...rowsOf(['record', 'these seasons'], '1', { changedAfterClosing }),
    ],
  )
}
