/**
 * Divides a whole total by whole weights into whole parts that add up exactly (largest remainder; of equal remainders
 * the first has it). Undefined where all weights are zero. Numbers up to 2^53; the products are made without loss.
 */
export function splitExactly(total: number, weights: readonly number[]): number[] | undefined {
  const sum = weights.reduce((a, b) => a + BigInt(b), 0n)
  if (sum === 0n) return undefined
  const shares = weights.map((weight, position) => {
    const product = BigInt(total) * BigInt(weight)
    return { position, part: Number(product / sum), rest: product % sum }
  })
  let left = total - shares.reduce((a, share) => a + share.part, 0)
  const byRest = [...shares].sort((a, b) => (a.rest === b.rest ? a.position - b.position : a.rest > b.rest ? -1 : 1))
  for (const share of byRest) if (left-- > 0) share.part += 1
  return shares.map((share) => share.part)
}

/** `total` x part / whole, rounded half up, without loss. */
export function proportion(total: number, part: number, whole: number): number {
  const [t, p, w] = [BigInt(total), BigInt(part), BigInt(whole)]
  return Number((2n * t * p + w) / (2n * w))
}
