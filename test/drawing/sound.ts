import { expect } from 'vitest'
import type { Drawing, Line, Point } from '../../src/drawing/drawing.ts'
import { boxOf, overlap } from '../../src/drawing/labels.ts'

/** What holds of every drawing: marks and words inside the frame, coordinates in tenths, words apart and no line through one. */
export function faultsOf(drawing: Drawing): string[] {
  const { width, height, texts } = drawing
  const corners: [string, Point][] = [
    ...drawing.lines.flatMap((line): [string, Point][] => [
      [line.look, [line.x1, line.y1]],
      [line.look, [line.x2, line.y2]],
    ]),
    ...drawing.paths.flatMap((path) => path.points.map((point): [string, Point] => ['path', point])),
    ...drawing.areas.flatMap((area) => area.points.map((point): [string, Point] => ['area', point])),
    ...drawing.rects.flatMap(({ x, y, width, height }): [string, Point][] => [
      ['rect', [x, y]],
      ['rect', [x + width, y + height]],
    ]),
  ]
  const inside = (x: number, y: number) => x >= -0.1 && y >= -0.1 && x <= width + 0.1 && y <= height + 0.1
  const struck = drawing.lines.filter(isSquare).flatMap((line) => {
    const ground = boxOfLine(line)
    return texts
      .filter((text) => overlap(ground, shrunk(boxOf(text))))
      .map((text) => `${line.look} through "${text.text}"`)
  })
  const boxes = texts.map((text) => ({ text: text.text, box: boxOf(text) }))
  return [
    ...struck,
    ...(Number.isFinite(width) && Number.isFinite(height) ? [] : ['no frame']),
    ...corners.filter(([, [x, y]]) => !inside(x, y)).map(([mark, at]) => `${mark} outside at ${at.join(' ')}`),
    ...corners.filter(([, at]) => at.some(unrounded)).map(([mark, at]) => `${mark} not in tenths at ${at.join(' ')}`),
    ...drawing.rects.filter((rect) => !(rect.width >= 0 && rect.height >= 0)).map(() => 'a rect without a size'),
    ...boxes
      .filter(({ box }) => !inside(box.left, box.top) || !inside(box.right, box.bottom))
      .map(({ text }) => `"${text}" outside`),
    ...boxes.flatMap(({ text, box }, i) =>
      boxes
        .slice(i + 1)
        .filter((other) => overlap(shrunk(box), shrunk(other.box)))
        .map((other) => `"${text}" over "${other.text}"`),
    ),
  ]
}

const isSquare = (line: Line) => line.x1 === line.x2 || line.y1 === line.y2

const boxOfLine = (line: Line) => ({
  ...{ left: Math.min(line.x1, line.x2), right: Math.max(line.x1, line.x2) },
  ...{ top: Math.min(line.y1, line.y2) - 0.01, bottom: Math.max(line.y1, line.y2) + 0.01 },
})

/** Tenths: what rounding may add is no overlap. */
const shrunk = (box: ReturnType<typeof boxOf>) => ({
  ...{ left: box.left + 0.1, right: box.right - 0.1, top: box.top + 0.1, bottom: box.bottom - 0.1 },
})

const unrounded = (value: number) => Math.abs(value * 10 - Math.round(value * 10)) > 1e-6

export const expectSound = (drawing: Drawing) => expect(faultsOf(drawing)).toEqual([])
