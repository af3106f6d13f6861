/** What is said of cups, jars and the run as a whole. */
export const runSentences: Readonly<Record<string, string>> = {
  cups_apart: 'When the last cup is served, at {at}, the cups are between {low} and {high} °C.',
  cups_very_hot:
    'A cup is served at {hottest} °C. Above {limit} °C it can burn the mouth: let it cool, or warn the guest.',
  cups_not_cold:
    'No cup is below {cold} °C before {limit}: what you say of the cold cup is tasted after the run, or needs a smaller or wider cup.',
  jar_light: 'Jar {name} holds {weighed} g: {off} g less than the {target} g that it should.',
  jar_heavy: 'Jar {name} holds {weighed} g: {off} g more than the {target} g that it should.',
  jar_missing: 'There is no jar for brewer {brewers}.',
  jar_no_spare: 'There is no spare jar.',
  pin_lost: '"{title}" is pinned to something that is not in the schedule; it floats.',
  pin_release: 'It can be placed when "{title}" floats.',
  number_false: '"{title}" says {said}; its source says {now} ({from}).',
  number_old: '"{title}" says {said}; that was measured on another brew ({from}).',
  number_unknown: '"{title}" speaks of {name}, and nothing stands behind it.',
  number_loose: '"{title}" holds numbers with nothing behind them: {numbers}.',
  no_prediction: 'The plan could not be predicted: {why}',
};
