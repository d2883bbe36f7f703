/**
 * Whether the edible part usually touches the soil or soil particles, as it is commonly grown: common practice, from
 * memory, without a source. What is not named touches it; where it hangs on how it is grown (held up or not) it is not
 * known, which is then treated as touching. A group corrects it for its own way of growing.
 */
const keptOffTheSoil = ['sweetcorn', 'pepper, green', 'pepper, red', 'aubergine', 'Brussels sprouts']
const dependsOnSupport = ['tomato', 'peas (shelled)', 'green beans', 'broad beans (immature)', 'cucumber']

export function usuallyTouchesSoil(crop: string): number | null {
  if (keptOffTheSoil.includes(crop)) return 0
  return dependsOnSupport.includes(crop) ? null : 1
}
