/** What a water can be asked for. Ratios are by mass (mg per mg). */
export const QUANTITIES = {
  calcium: 'mg/L',
  magnesium: 'mg/L',
  sodium: 'mg/L',
  potassium: 'mg/L',
  bicarbonate: 'mg/L',
  chloride: 'mg/L',
  sulfate: 'mg/L',
  nitrate: 'mg/L',
  hardness: 'mg/L as CaCO3',
  alkalinity: 'mg/L as CaCO3',
  ion_sum: 'mg/L',
  conductivity: 'µS/cm',
  calcium_to_magnesium: '',
  chloride_to_sulfate: '',
} as const;
export type Quantity = keyof typeof QUANTITIES;
export const QUANTITY_NAMES = Object.keys(QUANTITIES) as [Quantity, ...Quantity[]];
