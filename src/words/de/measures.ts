import type { measures as english } from '../en/measures.ts'

export const measures = {
  names: {
    marketablePerBed: () => 'Marktfähig, kg je m² Beet',
    allPerBed: () => 'Alles, kg je m² Beet',
    marketablePerGross: () => 'Marktfähig, kg je m² brutto',
    allPerGross: () => 'Alles, kg je m² brutto',
    hoursPerBed: () => 'Stunden je m² Beet, ohne Erntearbeit',
    hoursPerKg: () => 'Stunden je marktfähigem kg, mit Erntearbeit',
    costPerKg: (currency: string) => `Betriebsmittel, ${currency} je marktfähigem kg`,
    costPerBed: (currency: string) => `Betriebsmittel, ${currency} je m² Beet`,
    lostArea: () => 'Ausgefallene Anbaufläche',
  },
  counted: {
    kgPerArea: () => 'kg je m²',
    hoursPerArea: () => 'Stunden je m²',
    hoursPerKg: () => 'Stunden je kg',
    costPerKg: (currency: string) => `Betriebsmittel, ${currency} je kg`,
    costPerArea: (currency: string) => `Betriebsmittel, ${currency} je m²`,
    lostArea: () => 'Ausgefallene Anbaufläche',
  },
} satisfies Pick<typeof english, 'names' | 'counted'>
