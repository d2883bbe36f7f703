import { encode } from 'uqr'

/** A square code (ISO/IEC 18004, QR code) of a text, as the path of an SVG: one step a module, four steps of margin. */
export function squareCode(text: string): { readonly side: number; readonly path: string } {
  const { data, size } = encode(text, { ecc: 'M', border: 4 })
  const path = data.flatMap((row, y) => row.flatMap((dark, x) => (dark ? [`M${x} ${y}h1v1h-1z`] : []))).join('')
  return { side: size, path }
}
