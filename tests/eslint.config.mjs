/* The one dialect of the browser scripts: what every browser of the last years reads, no build. */
import { createRequire } from "node:module";

const globals = createRequire(process.env.QUOTER_NODE_MODULES + "/")("globals");

export default [
  {
    files: ["**/*.js"],
    languageOptions: { ecmaVersion: 2019, sourceType: "script", globals: globals.browser },
    linterOptions: { reportUnusedDisableDirectives: "error" },
    rules: {
      "arrow-body-style": "error",
      "curly": "error",
      "eqeqeq": "error",
      "no-implicit-globals": "error",
      "no-redeclare": "error",
      "no-shadow": "error",
      "no-undef": "error",
      "no-unused-vars": "error",
      "no-var": "error",
      "object-shorthand": "error",
      "one-var": ["error", "never"],
      "prefer-arrow-callback": "error",
      "prefer-const": "error",
      "prefer-spread": "error",
      "strict": ["error", "function"]
    }
  }
];
