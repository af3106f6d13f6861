/** A word for what is tasted, and the wider word it belongs to. */
export interface TastingWord {
  word: string;
  /** Wider word; null at the top. */
  parent: string | null;
}

/** Plain words, widest first. Made for this program from everyday language; change it to what your panel says. */
const OUTLINE: Readonly<Record<string, Readonly<Record<string, readonly string[]>>>> = {
  fruit: {
    citrus: ['lemon', 'lime', 'orange', 'mandarin', 'grapefruit', 'bergamot'],
    'stone fruit': ['peach', 'white peach', 'apricot', 'plum', 'cherry'],
    berries: ['strawberry', 'raspberry', 'blackberry', 'blueberry', 'blackcurrant'],
    'orchard fruit': ['green apple', 'red apple', 'pear', 'quince', 'grape'],
    'tropical fruit': ['mango', 'pineapple', 'passion fruit', 'banana', 'lychee'],
    'dried fruit': ['raisin', 'date', 'fig', 'prune'],
  },
  flowers: {
    'white flowers': ['jasmine', 'elderflower', 'citrus blossom'],
    'red flowers': ['rose', 'hibiscus', 'violet'],
  },
  sweet: {
    honey: ['raw honey', 'flower honey'],
    'cooked sugar': ['caramel', 'toffee', 'brown sugar', 'molasses'],
    'light sweetness': ['sweet finish', 'cane sugar', 'vanilla', 'marshmallow'],
  },
  'nuts and cocoa': {
    nuts: ['almond', 'hazelnut', 'walnut', 'peanut'],
    chocolate: ['milk chocolate', 'dark chocolate', 'cocoa powder'],
  },
  'spice and herbs': {
    spice: ['cinnamon', 'clove', 'cardamom', 'pepper', 'ginger'],
    tea: ['black tea', 'green tea', 'chamomile'],
    herbs: ['mint', 'lemongrass', 'thyme'],
  },
  grain: { bread: ['toast', 'biscuit', 'malt'], porridge: ['oats', 'rice'] },
  fermented: { alcohol: ['red wine', 'rum', 'cider'], dairy: ['yoghurt', 'butter', 'cream'] },
  'wood and smoke': { wood: ['cedar', 'pencil'], smoke: ['ash', 'tobacco', 'burnt wood'] },
  green: { vegetable: ['pea', 'cucumber', 'tomato'], grass: ['hay', 'cut grass'] },
  faults: { stale: ['paper', 'cardboard', 'old nuts'], dirty: ['earth', 'mould', 'rubber'] },
};

/** The tree that a new panel starts with. */
export const STARTING_WORDS: readonly TastingWord[] = Object.entries(OUTLINE).flatMap(([top, groups]) => [
  { word: top, parent: null },
  ...Object.entries(groups).flatMap(([group, words]) => [
    { word: group, parent: top },
    ...words.map((word) => ({ word, parent: group })),
  ]),
]);

/** How a tasted word stands to a said one. */
export type WordRelation =
  /** The same word, or a narrower one: what was said was found. */
  | 'found'
  /** The next wider word, or another word under it: close, not the same. */
  | 'near'
  | 'other';

/** A tree of words that can be asked. */
export interface WordTree {
  words: readonly TastingWord[];
  /** A word's wider words, nearest first; empty at the top and for words that are not in the tree. */
  wider(word: string): string[];
  /** Words of the tree directly under a word. */
  narrower(word: string): string[];
  relation(said: string, tasted: string): WordRelation;
}

/** What is wrong with a list of words. */
export type WordFault =
  | { code: 'word_twice'; word: string }
  | { code: 'parent_missing'; word: string; parent: string }
  | { code: 'word_loop'; word: string };

/** How a word is compared: without capitals and outer spaces. */
export const sameWord = (word: string): string => word.trim().toLowerCase();

/** Everything that keeps a list of words from being a tree. */
export function treeFaults(words: readonly TastingWord[]): WordFault[] {
  const faults: WordFault[] = [];
  const parents = new Map<string, string | null>();
  for (const { word, parent } of words) {
    if (parents.has(sameWord(word))) faults.push({ code: 'word_twice', word });
    parents.set(sameWord(word), parent === null ? null : sameWord(parent));
  }
  for (const { word, parent } of words) {
    if (parent !== null && !parents.has(sameWord(parent)))
      faults.push({ code: 'parent_missing', word, parent });
    const seen = new Set<string>();
    let at: string | null | undefined = sameWord(word);
    while (at !== null && at !== undefined && !seen.has(at)) {
      seen.add(at);
      at = parents.get(at);
    }
    if (typeof at === 'string') faults.push({ code: 'word_loop', word });
  }
  return faults;
}

/** Makes a tree of words. Expects a list without faults; with a loop the wider words end where it closes. */
export function wordTree(words: readonly TastingWord[] = STARTING_WORDS): WordTree {
  const byName = new Map(words.map((w) => [sameWord(w.word), w]));
  const wider = (word: string): string[] => {
    const path: string[] = [];
    let at = byName.get(sameWord(word));
    while (at && at.parent !== null && path.length < words.length) {
      const parent = at.parent;
      path.push(parent);
      at = byName.get(sameWord(parent));
    }
    return path;
  };
  const relation = (said: string, tasted: string): WordRelation => {
    const [a, b] = [sameWord(said), sameWord(tasted)];
    if (a === b || wider(b).some((w) => sameWord(w) === a)) return 'found';
    const parent = wider(a)[0];
    if (parent === undefined) return 'other';
    const p = sameWord(parent);
    return b === p || wider(b).some((w) => sameWord(w) === p) ? 'near' : 'other';
  };
  return {
    words,
    wider,
    narrower: (word) =>
      words.filter(({ parent }) => parent !== null && sameWord(parent) === sameWord(word)).map((w) => w.word),
    relation,
  };
}
