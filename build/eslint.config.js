import js from "@eslint/js";
import reactHooks from "eslint-plugin-react-hooks";
import tseslint from "typescript-eslint";
import wall from "./eslint-wall.js";

// The rules that need types are in oxlint.json: a program on the native compiler holds them in a tenth of the time.
export default tseslint.config(
  {
    ignores: [
      "**/node_modules/**",
      "dist/**",
      "release/**",
      "test-results/**",
      "engine/exchange/generated/**",
    ],
  },
  js.configs.recommended,
  ...tseslint.configs.recommended,
  {
    plugins: { wall },
    rules: {
      "wall/rooms": "error",
      // The compiler knows the names that exist.
      "no-undef": "off",
      eqeqeq: "error",
      "no-var": "error",
      "prefer-const": "error",
      "@typescript-eslint/consistent-type-imports": ["error", { disallowTypeAnnotations: false }],
      "@typescript-eslint/no-unused-vars": [
        "error",
        { argsIgnorePattern: "^_", varsIgnorePattern: "^_", caughtErrorsIgnorePattern: "^_" },
      ],
    },
  },
  {
    files: ["renderer/**/*.{ts,tsx}"],
    ...reactHooks.configs.flat["recommended-latest"],
  },
  {
    files: ["tests/**/*.{ts,tsx}"],
    rules: {
      "no-restricted-globals": [
        "error",
        { name: "setTimeout", message: "A test waits for an event, not for a time." },
      ],
    },
  },
);
