/**
 * Lint, with types: `eslint --config tests/check/eslint.config.js --max-warnings 0 .` from the root.
 * Formatting is prettier's business. What the rules are for: nothing asynchronous is forgotten,
 * nothing of unknown type is used as if it were known, and what must be replayable reads no clock.
 */
import js from '@eslint/js';
import svelte from 'eslint-plugin-svelte';
import { defineConfig, globalIgnores } from 'eslint/config';
import globals from 'globals';
import { fileURLToPath } from 'node:url';
import ts from 'typescript-eslint';

const TYPED = ['**/*.ts', '**/*.svelte'];
/** What is shipped. Tests may assert types of what they have just made themselves. */
const PRODUCT = [
  'adapters/**/*.ts',
  'client/**/*.{ts,svelte}',
  'server/**/*.ts',
  'simulator/**/*.ts',
];
/** Time comes in with each reading, so that all of this can be replayed, and faster than real time. */
const CLOCKLESS = [
  'server/measure/**/*.ts',
  'server/words/**/*.ts',
  'server/signal/**/*.ts',
  'server/session.ts',
  'server/session/**/*.ts',
  'server/visit-log/**/*.ts',
  'server/history.ts',
  'server/visit.ts',
  'server/class/**/*.ts',
  'simulator/**/*.ts',
];
/** Where the simulated radio is given the clock and the processes of this computer. */
const WITH_CLOCK = ['simulator/bluetooth/beneath/**/*.ts'];
const NO_CLOCK = 'Time comes in with each reading: take it as an argument.';
const NO_CHANCE = 'Nothing here is left to chance: use simulator/random.ts, with a seed.';

export default defineConfig(
  globalIgnores(['build/', 'data/', 'tests/check/canary/']),
  { linterOptions: { reportUnusedDisableDirectives: 'error' } },
  js.configs.recommended,
  {
    rules: {
      eqeqeq: 'error',
      'no-constructor-return': 'error',
      'no-template-curly-in-string': 'error',
      'no-unreachable-loop': 'error',
      'no-var': 'error',
      'object-shorthand': 'error',
      'prefer-const': 'error',
    },
  },
  {
    files: TYPED,
    extends: [ts.configs.recommendedTypeChecked],
    languageOptions: {
      parserOptions: {
        projectService: true,
        tsconfigRootDir: fileURLToPath(new URL('../..', import.meta.url)),
        extraFileExtensions: ['.svelte'],
      },
    },
  },
  {
    files: ['**/*.{svelte,svelte.ts}'],
    extends: [svelte.configs.recommended],
    languageOptions: { parserOptions: { parser: ts.parser } },
    // Names that come out of `$props()` are declared with `let`.
    rules: { 'svelte/prefer-const': 'error', 'prefer-const': 'off' },
  },
  {
    files: ['**/*.{js,mjs,cjs}'],
    languageOptions: { globals: globals.node },
  },
  {
    files: ['client/offline/worker.js'],
    languageOptions: { globals: globals.serviceworker },
  },
  {
    files: TYPED,
    rules: {
      // The compiler knows which names exist, and reports those that are not used.
      'no-undef': 'off',
      '@typescript-eslint/no-unused-vars': 'off',
      '@typescript-eslint/no-explicit-any': 'error',
      '@typescript-eslint/no-floating-promises': 'error',
      '@typescript-eslint/no-unnecessary-type-assertion': 'error',
      '@typescript-eslint/only-throw-error': 'error',
      '@typescript-eslint/prefer-promise-reject-errors': 'error',
      '@typescript-eslint/restrict-template-expressions': ['error', { allowNumber: true }],
      '@typescript-eslint/switch-exhaustiveness-check': [
        'error',
        { considerDefaultExhaustiveForUnions: true },
      ],
      // `async` is also said where a contract asks for a promise.
      '@typescript-eslint/require-await': 'off',
    },
  },
  {
    files: PRODUCT,
    rules: {
      // A cast says to the compiler what nobody has checked. `as const` casts nothing.
      '@typescript-eslint/consistent-type-assertions': ['error', { assertionStyle: 'never' }],
      '@typescript-eslint/no-non-null-assertion': 'error',
    },
  },
  {
    files: ['tests/**/*.ts'],
    rules: {
      // `expect.stringMatching()` and its like are of type `any`. What is made of them is still seen.
      '@typescript-eslint/no-unsafe-assignment': 'off',
    },
  },
  {
    // Says again what import-rules.cjs says of the client: types in `.svelte` files escape it.
    files: ['client/**/*.svelte'],
    rules: {
      '@typescript-eslint/no-restricted-imports': [
        'error',
        {
          patterns: [
            {
              regex:
                '/(adapters|simulator|tests)/|/server/(?!(protocol|units)\\.ts$|(measure|words|protocol)/)|^node:',
              message:
                'The client knows server/protocol, server/units.ts, server/measure and server/words.',
            },
          ],
        },
      ],
    },
  },
  {
    files: CLOCKLESS,
    ignores: WITH_CLOCK,
    rules: {
      'no-restricted-globals': [
        'error',
        {
          globals: [
            ...['performance', 'setTimeout', 'setInterval', 'setImmediate', 'queueMicrotask'],
            ...['process', 'fetch', 'console', 'crypto'],
          ].map((name) => ({ name, message: NO_CLOCK })),
          checkGlobalObject: true,
        },
      ],
      'no-restricted-properties': [
        'error',
        { object: 'Date', property: 'now', message: NO_CLOCK },
        { object: 'Math', property: 'random', message: NO_CHANCE },
      ],
      'no-restricted-syntax': [
        'error',
        { selector: "NewExpression[callee.name='Date'][arguments.length=0]", message: NO_CLOCK },
        { selector: "CallExpression[callee.name='Date']", message: NO_CLOCK },
      ],
    },
  },
);
