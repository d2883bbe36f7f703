/** So many marks stay apart, by form alone, at the size of a letter. */
export const methodMarks = 6

/**
 * The outline of a method's own mark around a point, as the path of an SVG: disc, square, triangle, diamond, triangle
 * on its head, hexagon, so that a method is known by its form in every picture, table and sheet of paper. `place` is
 * counted from 0 and begins again after the sixth; `reach` is from the middle to the side.
 */
export function methodMark(place: number, { x, y, reach }: { x: number; y: number; reach: number }): string {
  const form = ((place % methodMarks) + methodMarks) % methodMarks
  if (form === 0)
    return (
      `M${p(x - reach)} ${p(y)}a${p(reach)} ${p(reach)} 0 1 0 ${p(2 * reach)} 0a${p(reach)} ${p(reach)} 0 1 0 ` +
      `${p(-2 * reach)} 0z`
    )
  const points = (corners[form - 1] ?? []).map(([dx, dy]) => `${p(x + dx * reach)} ${p(y + dy * reach)}`)
  return `M${points.join('L')}z`
}

type Corners = readonly (readonly [number, number])[]

/** In reaches from the middle; sized so that all cover about the ground of the disc. */
const corners: readonly Corners[] = [
  [
    [-0.88, -0.88],
    [0.88, -0.88],
    [0.88, 0.88],
    [-0.88, 0.88],
  ],
  [
    [0, -1.2],
    [1.16, 0.8],
    [-1.16, 0.8],
  ],
  [
    [0, -1.25],
    [1.25, 0],
    [0, 1.25],
    [-1.25, 0],
  ],
  [
    [0, 1.2],
    [1.16, -0.8],
    [-1.16, -0.8],
  ],
  [
    [-1.1, 0],
    [-0.55, -0.95],
    [0.55, -0.95],
    [1.1, 0],
    [0.55, 0.95],
    [-0.55, 0.95],
  ],
]

const p = (value: number) => String(Math.round(value * 10) / 10)
