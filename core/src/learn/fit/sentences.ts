/** English sentences of everything a fit has to say, by code. Other languages translate by code and values. */
export const fitSentences: Readonly<Record<string, string>> = {
  calibrated: 'Calibrated on {trials} trials of {coffee}.',
  calibrated_one: 'Calibrated on one trial of {coffee}.',
};
