/**
 * The vegetables that a new group starts with: energy (kcal), protein, phosphorus and potassium (mg) per 100 g edible,
 * and the part of the bought weight that is refuse (%), each of the raw food. Source: USDA National Nutrient Database
 * for Standard Reference (public domain), by its number there.
 */
interface FirstCrop {
  readonly name: string
  readonly ndb: string
  readonly energyKcalPer100g: number
  readonly proteinMgPer100g: number
  readonly phosphorusMgPer100g: number
  readonly potassiumMgPer100g: number
  readonly refusePercent: number
}

type Row = readonly [
  name: string,
  ndb: string,
  kcal: number,
  protein: number,
  phosphorus: number,
  potassium: number,
  refuse: number,
]

const rows: readonly Row[] = [
  ['tomato', '11529', 18, 880, 24, 237, 9],
  ['carrot', '11124', 41, 930, 35, 320, 11],
  ['potato', '11352', 77, 2020, 57, 421, 25],
  ['cabbage', '11109', 25, 1280, 26, 170, 20],
  ['onion (bulb)', '11282', 40, 1100, 29, 146, 10],
  ['spring onion', '11291', 32, 1830, 37, 276, 4],
  ['leek', '11246', 61, 1500, 35, 180, 56],
  ['garlic', '11215', 149, 6360, 153, 401, 13],
  ['beetroot', '11080', 43, 1610, 40, 325, 33],
  ['chard', '11147', 19, 1800, 46, 379, 8],
  ['spinach', '11457', 23, 2860, 49, 558, 28],
  ['lettuce, cos', '11251', 17, 1230, 30, 247, 6],
  ['kale', '11233', 49, 4280, 92, 491, 39],
  ['broccoli', '11090', 34, 2820, 66, 316, 39],
  ['cauliflower', '11135', 25, 1920, 44, 299, 61],
  ['Brussels sprouts', '11098', 43, 3380, 69, 389, 10],
  ['kohlrabi', '11241', 27, 1700, 46, 350, 54],
  ['peas (shelled)', '11304', 81, 5420, 108, 244, 62],
  ['green beans', '11052', 31, 1830, 38, 211, 12],
  ['broad beans (immature)', '11088', 72, 5600, 95, 250, 3],
  ['courgette', '11477', 17, 1210, 38, 261, 5],
  ['winter squash', '11643', 34, 950, 23, 350, 29],
  ['pumpkin', '11422', 26, 1000, 44, 340, 30],
  ['cucumber', '11205', 15, 650, 24, 147, 3],
  ['pepper, green', '11333', 20, 860, 20, 175, 18],
  ['pepper, red', '11821', 31, 990, 26, 211, 18],
  ['aubergine', '11209', 25, 980, 24, 229, 19],
  ['parsnip', '11298', 75, 1200, 71, 375, 15],
  ['radish', '11429', 16, 680, 20, 233, 10],
  ['turnip', '11564', 28, 900, 27, 191, 19],
  ['swede', '11435', 37, 1080, 53, 305, 15],
  ['celery', '11143', 16, 690, 24, 260, 11],
  ['celeriac', '11141', 42, 1500, 115, 300, 14],
  ['sweetcorn', '11167', 86, 3270, 89, 270, 64],
  ['sweet potato', '11507', 86, 1570, 47, 337, 28],
  ['Jerusalem artichoke', '11226', 73, 2000, 78, 429, 31],
  ['asparagus', '11011', 20, 2200, 52, 202, 47],
  ['rhubarb', '09307', 21, 900, 14, 288, 25],
  ['fennel bulb', '11957', 31, 1240, 50, 414, 28],
  ['rocket', '11959', 25, 2580, 52, 369, 40],
  ['endive', '11213', 17, 1250, 28, 314, 14],
  ['strawberry', '09316', 32, 670, 24, 153, 6],
]

export const firstCrops: readonly FirstCrop[] = rows.map(
  ([name, ndb, kcal, protein, phosphorus, potassium, refuse]) => ({
    name,
    ndb,
    energyKcalPer100g: kcal,
    proteinMgPer100g: protein,
    phosphorusMgPer100g: phosphorus,
    potassiumMgPer100g: potassium,
    refusePercent: refuse,
  }),
)
