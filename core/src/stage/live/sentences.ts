/** What is said of a run that is to be followed live. */
export const liveSentences: Readonly<Record<string, string>> = {
  live_no_pours: '{plan} has no pours yet, so there is nothing to follow. Add a pour at the Brew desk.',
  live_no_time: 'The time allowed is {limit}. Give the run more than 0 s.',
  live_fits: 'All done at {ends}, {spare} s before the limit of {limit}.',
  live_over:
    'All done at {ends} only: {over} s over the limit of {limit}. Leave something out, or allow more time.',
  live_more_give: 'Or let pours begin later than planned: now they may by {give} s.',
  live_nothing: 'There is nothing to do in this run: no pours and nothing to say. Add some first.',
};
