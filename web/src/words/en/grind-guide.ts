/** How to measure a grind, and the card to print. */
export const grindGuide = {
  'grind.guide.sample': 'Take a fair sample',
  'grind.guide.sample.1':
    'Throw the first grams away after a change of setting: they are still the old one. Two to three times what the grinder keeps is enough.',
  'grind.guide.sample.2':
    'Grind the dose you brew with, at the temperature you brew with. Cold beans break finer.',
  'grind.guide.sample.3':
    'Mix all of it with a spoon from below, then take from several places. Boulders roll outwards and fines sink: a pinch from the top is neither.',
  'grind.guide.sample.4':
    'Write down the dial, where the burrs touch, and what the burrs have ground. Before you put a finger or a brush between burrs, pull the plug.',
  'grind.guide.sieve': 'Sieve',
  'grind.guide.sieve.1':
    'Five sieves or more, from the coarse down to about 100 µm, and the pan. Look at the plates: opening, not mesh, is what counts.',
  'grind.guide.sieve.2': 'Weigh the empty sieves and the pan. Brush the mesh from below first.',
  'grind.guide.sieve.3': 'Put on 20 to 50 g. More than that lies in layers and does not come through.',
  'grind.guide.sieve.4':
    'Shake level, tap every quarter turn, three to five minutes; stop when another minute moves less than 0.5 % of the load.',
  'grind.guide.sieve.5':
    'Weigh each sieve with what is on it, knock and brush clinging fines through first. Weigh the pan last, and gently: it holds the dust.',
  'grind.guide.sieve.6':
    'Add up. More than 1 % missing is dust in the air or in the mesh, and it is mostly fines. Do not breathe it: sieve with lid and pan closed.',
  'grind.guide.photo': 'Photograph',
  'grind.guide.photo.1':
    'Spread a few hundred grains thin on white paper, or in the field of the printed card. None should touch.',
  'grind.guide.photo.2':
    'Lay the card flat, hold the camera straight above, as near as all eight marks allow. A grain should be 10 pixels wide to be trusted.',
  'grind.guide.photo.3':
    'Even light from two sides or a cloudy window; no flash. Shadows make grains look larger.',
  'grind.guide.photo.4':
    'Take three to five pictures of fresh pinches. By volume a few large grains decide: one more picture does more than a better one.',
  'grind.guide.photo.5':
    'Look at the outlines: take out chaff, hairs, and pairs that were not parted. The figures follow at once.',
  'grind.guide.table': 'Have it measured by a laser instrument',
  'grind.guide.table.1':
    'Ask for the table as a file: size and cumulative volume, all classes, and whether it was measured dry or in a liquid.',
  'grind.guide.table.2':
    'Send a sample of 20 g, mixed, in a bag without air; fines cling to plastic, so ask them to use it all.',
  'grind.guide.table.3': 'Ask for three repeats: how far they differ is the spread this desk asks for.',
  'grind.guide.differ': 'Three methods, three numbers',
  'grind.guide.differ_text':
    'A sieve measures the second-smallest side of a grain, a picture its shadow lying flat, a laser a sphere that scatters alike. For the same coffee the picture says largest and the three differ, in common experience by up to a fifth. Compare like with like: one method for one grinder’s curve.',
  'grind.guide.openings': 'Openings and mesh numbers',
  'grind.guide.openings_text':
    'ISO 3310-1 and ASTM E11; ● marks the principal series that any supplier has. The last column is how far the mean opening of a sieve may be off (from memory of the standard).',
  'grind.guide.mesh': 'Mesh',
  'grind.guide.tolerance': 'May be off by',
  'grind.guide.principal': '●',

  'grind.card.title': 'Calibration card',
  'grind.card.text':
    'Print at 100 %, not “fit to page”, on matt white paper or card. Scatter grains in the field between the marks; the marks give the scale and take out a lean of the camera.',
  'grind.card.check': 'This line must measure {length} mm. If it does not, enter what it measures.',
  'grind.card.hint':
    'Print at 100 %. Lay flat, scatter grains in the field, photograph from straight above in even light.',
  'grind.card.for.30':
    'For fines and small grains, close up: a 12-megapixel picture gives about 12 µm a pixel.',
  'grind.card.for.60': 'For filter grinds: a 12-megapixel picture gives about 24 µm a pixel.',
  'grind.card.for.120': 'For coarse grinds only: fines are lost at this distance.',
  'grind.card.alt': 'Calibration card with marks {pitch} mm apart',
  'grind.card.measure': 'On the print the check line must be {length} mm long.',
  'grind.card.print': 'Print the card',
} as const;
