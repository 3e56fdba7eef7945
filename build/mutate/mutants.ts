/**
 * What can be wrong in a file by one slip: every mutant of its code, told as one replacement in its text. Types,
 * imports and what stands in a `throw` aren't mutated.
 */
import { createHash } from "node:crypto";
import ts from "typescript";
import { anchorOf } from "./probes.ts";

export type Operator =
  | "comparison"
  | "arithmetic"
  | "logic"
  | "boolean"
  | "condition"
  | "statement"
  | "block"
  | "number"
  | "text"
  | "array"
  | "optional"
  | "method";

export interface Mutant {
  /** Says the mutant in words, and stays the same when lines shift or other functions change. */
  readonly key: string;
  /** Relative to the project, with forward slashes. */
  readonly file: string;
  /** From 1. */
  readonly line: number;
  readonly operator: Operator;
  /** The names of the declarations that it stands in, outermost first: `busUse.run`. */
  readonly unit: string;
  readonly original: string;
  readonly mutated: string;
  /** What of the file's text is replaced, and by what. */
  readonly start: number;
  readonly end: number;
  readonly replacement: string;
  /** The place whose being run means that the mutant is reached: see `probes.ts`. */
  readonly anchor: number;
}

export const mutatedText = (text: string, { start, end, replacement }: Mutant): string =>
  text.slice(0, start) + replacement + text.slice(end);

export const parse = (file: string, text: string): ts.SourceFile =>
  ts.createSourceFile(file, text, ts.ScriptTarget.ES2023, true);

/** All mutants of a file, in the order of its text. */
export function mutantsOf(file: string, text: string): readonly Mutant[] {
  const source = parse(file, text);
  const slips: Slip[] = [];
  visit(source, slips);
  const seen = new Map<string, number>();
  return slips
    .map((slip, n) => ({ slip, n }))
    .sort((a, b) => a.slip.start - b.slip.start || a.n - b.n)
    .map(({ slip }): Mutant => {
      const { within, operator, start, end, replacement } = slip;
      const from = within.getStart();
      const whole = within.getText();
      const original = onOneLine(whole);
      const mutated = onOneLine(whole.slice(0, start - from) + replacement + whole.slice(end - from));
      const unit = unitOf(within);
      const told = `${file.replace(/^engine\//, "")} ${unit}: ${short(original)} → ${short(mutated)}`;
      const count = (seen.get(told) ?? 0) + 1;
      seen.set(told, count);
      return {
        key: count === 1 ? told : `${told} #${count}`,
        file,
        line: source.getLineAndCharacterOfPosition(start).line + 1,
        operator,
        unit,
        original,
        mutated,
        start,
        end,
        replacement,
        anchor: anchorOf(slip.anchor ?? within),
      };
    });
}

const onOneLine = (text: string): string => text.replaceAll(/\s+/g, " ");

/** Long texts keep their beginning and get a mark of the whole, so that two of them stay apart. */
function short(text: string): string {
  if (text.length <= 110) return text;
  return `${text.slice(0, 90)}… ${createHash("sha256").update(text).digest("hex").slice(0, 8)}`;
}

function unitOf(node: ts.Node): string {
  const names: string[] = [];
  for (let at = node; at.parent; at = at.parent) {
    const name = unitName(at);
    if (name !== null) names.unshift(name);
  }
  return names.join(".") || "file";
}

/** Functions have names that stay, and so have the constants of the file; what a function calls its values doesn't matter. */
function unitName(node: ts.Node): string | null {
  if (ts.isFunctionDeclaration(node)) return node.name?.text ?? null;
  if (ts.isVariableDeclaration(node) || ts.isPropertyAssignment(node)) {
    return isTopLevel(node) ? node.name.getText() : null;
  }
  return null;
}

/** A `const` of the file itself, or a function in an object of one. */
function isTopLevel(node: ts.VariableDeclaration | ts.PropertyAssignment): boolean {
  if (ts.isVariableDeclaration(node)) return ts.isSourceFile(node.parent.parent.parent);
  return node.initializer !== undefined && ts.isArrowFunction(node.initializer);
}

/** One replacement, and the node that it is shown in. */
interface Slip {
  readonly operator: Operator;
  readonly within: ts.Node;
  readonly start: number;
  readonly end: number;
  readonly replacement: string;
  /** Where the mutant is reached elsewhere than where `within` is. */
  readonly anchor?: ts.Node;
}

const whole = (operator: Operator, node: ts.Node, replacement: string, anchor?: ts.Node): Slip => ({
  operator,
  within: node,
  start: node.getStart(),
  end: node.getEnd(),
  replacement,
  ...(anchor ? { anchor } : {}),
});

const token = (operator: Operator, within: ts.Node, part: ts.Node, replacement: string): Slip => ({
  operator,
  within,
  start: part.getStart(),
  end: part.getEnd(),
  replacement,
});

function visit(node: ts.Node, slips: Slip[]): void {
  if (isLeftAlone(node)) return;
  slips.push(...slipsAt(node));
  ts.forEachChild(node, (child) => visit(child, slips));
}

function isLeftAlone(node: ts.Node): boolean {
  return (
    ts.isTypeNode(node) ||
    ts.isTypeAliasDeclaration(node) ||
    ts.isInterfaceDeclaration(node) ||
    ts.isImportDeclaration(node) ||
    ts.isExportDeclaration(node) ||
    // "Can't happen", and the branch that closes a union.
    ts.isThrowStatement(node) ||
    (ts.isCallExpression(node) && node.expression.getText() === "never") ||
    (ts.isNewExpression(node) && node.expression.getText().endsWith("Error"))
  );
}

function slipsAt(node: ts.Node): readonly Slip[] {
  if (ts.isBinaryExpression(node)) return binarySlips(node);
  if (ts.isPrefixUnaryExpression(node)) return prefixSlips(node);
  if (ts.isPostfixUnaryExpression(node)) {
    const other = node.operator === ts.SyntaxKind.PlusPlusToken ? "--" : "++";
    return [whole("arithmetic", node, `${node.operand.getText()}${other}`)];
  }
  if (ts.isNumericLiteral(node)) return numberSlips(node);
  if (isText(node)) return textSlips(node);
  if (node.kind === ts.SyntaxKind.TrueKeyword) return [whole("boolean", node, "false")];
  if (node.kind === ts.SyntaxKind.FalseKeyword) return [whole("boolean", node, "true")];
  if (ts.isArrayLiteralExpression(node)) return arraySlips(node);
  if (ts.isConditionalExpression(node)) return conditionSlips(node.condition);
  if (ts.isIfStatement(node)) return conditionSlips(node.expression);
  if (ts.isWhileStatement(node) || ts.isDoStatement(node)) return [stop(node.expression)];
  if (ts.isForStatement(node)) return node.condition ? [stop(node.condition)] : [];
  if (ts.isBlock(node)) return blockSlips(node);
  if (isRemovable(node)) return removalSlips(node);
  return [...optionalSlips(node), ...(ts.isCallExpression(node) ? methodSlips(node) : [])];
}

const COMPARISONS: Readonly<Record<string, readonly string[]>> = {
  "<": ["<=", ">="],
  "<=": ["<", ">"],
  ">": [">=", "<="],
  ">=": [">", "<"],
  "===": ["!=="],
  "!==": ["==="],
};

const ARITHMETIC: Readonly<Record<string, string>> = {
  "+": "-",
  "-": "+",
  "*": "/",
  "/": "*",
  "%": "*",
  "+=": "-=",
  "-=": "+=",
};

function binarySlips(node: ts.BinaryExpression): readonly Slip[] {
  const sign = node.operatorToken.getText();
  const joined = (other: string): string =>
    `(${operandText(node.left, other)} ${other} ${operandText(node.right, other)})`;
  const comparisons = COMPARISONS[sign];
  if (comparisons) return comparisons.map((other) => token("comparison", node, node.operatorToken, other));
  const arithmetic = ARITHMETIC[sign];
  if (arithmetic) {
    if (isText(node.left) || isText(node.right)) return [];
    return [token("arithmetic", node, node.operatorToken, arithmetic)];
  }
  switch (sign) {
    case "&&":
      return [
        whole("logic", node, joined("||")),
        ...[node.left, node.right].flatMap((operand) => operandSlips(operand, "&&", "true")),
      ];
    case "||":
      return [
        whole("logic", node, joined("&&")),
        ...[node.left, node.right].flatMap((operand) => operandSlips(operand, "||", "false")),
      ];
    case "??":
      return [whole("logic", node, joined("&&")), whole("logic", node, node.left.getText())];
    default:
      return [];
  }
}

/** With parentheses around it where the other sign would take it apart, or doesn't stand beside it without. */
function operandText(operand: ts.Expression, sign: string): string {
  const text = operand.getText();
  const other = ts.isBinaryExpression(operand) ? operand.operatorToken.getText() : sign;
  return other !== sign && ["&&", "||", "??"].includes(other) ? `(${text})` : text;
}

/** An operand as if it had no say. Of `a && b && c` the operand `a && b` is left to its own operands. */
function operandSlips(operand: ts.Expression, sign: string, neutral: string): readonly Slip[] {
  if (ts.isBinaryExpression(operand) && operand.operatorToken.getText() === sign) return [];
  return [whole("condition", operand, neutral)];
}

const conditionSlips = (condition: ts.Expression): readonly Slip[] => [
  whole("condition", condition, "true"),
  whole("condition", condition, "false"),
];

/** A loop that never starts; one that never ends is no use. */
const stop = (condition: ts.Expression): Slip => whole("condition", condition, "false");

function prefixSlips(node: ts.PrefixUnaryExpression): readonly Slip[] {
  const operand = node.operand.getText();
  switch (node.operator) {
    case ts.SyntaxKind.ExclamationToken:
      return [whole("boolean", node, operand)];
    case ts.SyntaxKind.MinusToken:
      return ts.isNumericLiteral(node.operand) ? [] : [whole("arithmetic", node, operand)];
    case ts.SyntaxKind.PlusPlusToken:
      return [whole("arithmetic", node, `--${operand}`)];
    case ts.SyntaxKind.MinusMinusToken:
      return [whole("arithmetic", node, `++${operand}`)];
    default:
      return [];
  }
}

function numberSlips(node: ts.NumericLiteral): readonly Slip[] {
  const sign = ts.isPrefixUnaryExpression(node.parent) ? node.parent : null;
  const negative = sign?.operator === ts.SyntaxKind.MinusToken;
  const shown = negative ? sign! : node;
  const value = Number(node.text) * (negative ? -1 : 1);
  return [value + 1, value - 1].map((other) => whole("number", shown, other < 0 ? `(${other})` : `${other}`));
}

const isText = (node: ts.Node): node is ts.StringLiteralLike | ts.TemplateExpression =>
  ts.isStringLiteralLike(node) || ts.isTemplateExpression(node);

function textSlips(node: ts.StringLiteralLike | ts.TemplateExpression): readonly Slip[] {
  const { parent } = node;
  if (isNameOrTag(node, parent)) return [];
  return [whole("text", node, ts.isStringLiteralLike(node) && node.text === "" ? '"?"' : '""')];
}

/** A key, or the tag of a union that something is compared with: with another one it wouldn't compile. */
function isNameOrTag(node: ts.Node, parent: ts.Node): boolean {
  if (ts.isPropertyAssignment(parent)) return parent.name === node;
  if (ts.isElementAccessExpression(parent)) return parent.argumentExpression === node;
  if (ts.isBinaryExpression(parent)) return ["===", "!==", "in"].includes(parent.operatorToken.getText());
  return ts.isCaseClause(parent);
}

function arraySlips(node: ts.ArrayLiteralExpression): readonly Slip[] {
  const { parent } = node;
  const assignedTo =
    ts.isBinaryExpression(parent) &&
    parent.left === node &&
    parent.operatorToken.kind === ts.SyntaxKind.EqualsToken;
  return node.elements.length === 0 || assignedTo ? [] : [whole("array", node, "[]")];
}

type Removable = ts.ExpressionStatement | ts.ReturnStatement | ts.ContinueStatement | ts.BreakStatement;

const isRemovable = (node: ts.Node): node is Removable =>
  ts.isExpressionStatement(node) ||
  ts.isReturnStatement(node) ||
  ts.isContinueStatement(node) ||
  ts.isBreakStatement(node);

function removalSlips(node: Removable): readonly Slip[] {
  if (isAllOfAnIf(node)) return [];
  const { parent } = node;
  const last = ts.isBlock(parent) && parent.statements.at(-1) === node;
  // The last word of a function: without it there is no result at all.
  if (ts.isReturnStatement(node) && last && ts.isFunctionLike(parent.parent)) return [];
  if (ts.isExpressionStatement(node) && node.expression.getText().startsWith("never(")) return [];
  return [whole("statement", node, ";")];
}

/** Without an `else`, an `if` without its only statement is an `if` whose condition is false, which is there already. */
function isAllOfAnIf(node: ts.Node): boolean {
  const body = ts.isBlock(node.parent) && node.parent.statements.length === 1 ? node.parent : node;
  const { parent } = body;
  return ts.isIfStatement(parent) && parent.thenStatement === body && !parent.elseStatement;
}

function blockSlips(node: ts.Block): readonly Slip[] {
  const [first] = node.statements;
  if (!first || ts.isThrowStatement(first)) return [];
  const { parent } = node;
  if (ts.isIfStatement(parent) && parent.thenStatement === node && !parent.elseStatement) return [];
  if (node.statements.length === 1 && isRemovable(first) && removalSlips(first).length > 0) return [];
  return [whole("block", node, "{}", first)];
}

function optionalSlips(node: ts.Node): readonly Slip[] {
  if (
    !ts.isPropertyAccessExpression(node) &&
    !ts.isElementAccessExpression(node) &&
    !ts.isCallExpression(node)
  )
    return [];
  if (!node.questionDotToken) return [];
  const plain = ts.isPropertyAccessExpression(node) ? "." : "";
  return [token("optional", node, node.questionDotToken, plain)];
}

/** Methods that swap with their opposite, by the text of what they are called on; `*` for any. */
const OPPOSITES: Readonly<Record<string, string>> = {
  some: "every",
  every: "some",
  startsWith: "endsWith",
  endsWith: "startsWith",
  "Math.min": "max",
  "Math.max": "min",
  "Math.floor": "ceil",
  "Math.ceil": "floor",
};

/** Methods that give back what they are called on, changed: without them it stays as it was. */
const CHANGERS = new Set([
  "filter",
  "sort",
  "toSorted",
  "reverse",
  "toReversed",
  "slice",
  "trim",
  "toLowerCase",
  "toUpperCase",
]);

function methodSlips(node: ts.CallExpression): readonly Slip[] {
  const callee = node.expression;
  if (!ts.isPropertyAccessExpression(callee)) return [];
  const name = callee.name.text;
  const opposite = OPPOSITES[name] ?? OPPOSITES[callee.getText()];
  if (opposite) return [token("method", node, callee.name, opposite)];
  if (callee.getText() === "Math.abs") return [whole("method", node, `(${node.arguments[0]!.getText()})`)];
  return CHANGERS.has(name) ? [whole("method", node, callee.expression.getText())] : [];
}
