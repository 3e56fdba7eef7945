/**
 * What is put into code while it is turned into JavaScript: counters that say which places were run, and a step counter
 * in every loop, so that a mutant that never ends is stopped by a count and not by a clock.
 */
import ts from "typescript";

/** The names by which the code finds its probes. */
export const HIT = "__hit";
export const TICK = "__tick";

const LOGIC: ReadonlySet<ts.SyntaxKind> = new Set([
  ts.SyntaxKind.AmpersandAmpersandToken,
  ts.SyntaxKind.BarBarToken,
  ts.SyntaxKind.QuestionQuestionToken,
]);

/** Whether a node may be run or not while what stands around it is run. */
function isAnchor(node: ts.Node): boolean {
  const { parent } = node;
  if (!parent) return false;
  if (ts.isStatement(node)) {
    if (ts.isSourceFile(parent)) return isCode(node);
    return (
      ts.isBlock(parent) || ts.isCaseOrDefaultClause(parent) || (isBody(node, parent) && !ts.isBlock(node))
    );
  }
  if (ts.isArrowFunction(parent)) return parent.body === node && !ts.isBlock(node);
  if (ts.isConditionalExpression(parent)) return parent.whenTrue === node || parent.whenFalse === node;
  if (ts.isBinaryExpression(parent)) return parent.right === node && LOGIC.has(parent.operatorToken.kind);
  return (ts.isParameter(parent) || ts.isBindingElement(parent)) && parent.initializer === node;
}

const isCode = (node: ts.Statement): boolean =>
  !ts.isImportDeclaration(node) &&
  !ts.isExportDeclaration(node) &&
  !ts.isInterfaceDeclaration(node) &&
  !ts.isTypeAliasDeclaration(node);

const isBody = (node: ts.Statement, parent: ts.Node): boolean =>
  ts.isIfStatement(parent) ||
  (ts.isIterationStatement(parent, false) && parent.statement === node) ||
  ts.isLabeledStatement(parent);

/** The nearest place around a node whose being run is counted; its position in the text is its number. */
export function anchorOf(node: ts.Node): number {
  let at = node;
  while (!isAnchor(at) && at.parent) at = at.parent;
  return at.getStart();
}

const call = (name: string, ...values: readonly number[]): ts.Expression =>
  ts.factory.createCallExpression(
    ts.factory.createIdentifier(name),
    undefined,
    values.map((value) => ts.factory.createNumericLiteral(value)),
  );

const statement = (name: string, ...values: readonly number[]): ts.Statement =>
  ts.factory.createExpressionStatement(call(name, ...values));

/** Counts every step of every loop. */
export const ticks: ts.TransformerFactory<ts.SourceFile> = (context) => (file) => {
  const visit = (node: ts.Node): ts.Node => {
    const made = ts.visitEachChild(node, visit, context);
    if (!ts.isIterationStatement(made, false)) return made;
    const { factory } = context;
    const body = factory.createBlock([statement(TICK), made.statement]);
    if (ts.isForStatement(made)) {
      const { initializer, condition, incrementor } = made;
      return factory.updateForStatement(made, initializer, condition, incrementor, body);
    }
    if (ts.isForOfStatement(made)) {
      const { awaitModifier, initializer, expression } = made;
      return factory.updateForOfStatement(made, awaitModifier, initializer, expression, body);
    }
    if (ts.isForInStatement(made)) {
      return factory.updateForInStatement(made, made.initializer, made.expression, body);
    }
    if (ts.isWhileStatement(made)) return factory.updateWhileStatement(made, made.expression, body);
    return ts.isDoStatement(made) ? factory.updateDoStatement(made, body, made.expression) : made;
  };
  return ts.visitEachChild(file, visit, context);
};

/** Tells each place that is run, by its number. */
export const hits: ts.TransformerFactory<ts.SourceFile> = (context) => (file) => {
  const visit = (node: ts.Node): ts.Node | ts.Node[] => {
    // Asked before the children are made anew: only the node of the text knows where it stands.
    const anchor = isAnchor(node) ? node.getStart(file) : null;
    const made = ts.visitEachChild(node, visit, context);
    if (anchor === null) return made;
    if (!ts.isStatement(made)) {
      const { factory } = context;
      return factory.createParenthesizedExpression(
        factory.createComma(call(HIT, anchor), made as ts.Expression),
      );
    }
    const listed =
      ts.isBlock(node.parent) || ts.isSourceFile(node.parent) || ts.isCaseOrDefaultClause(node.parent);
    return listed
      ? [statement(HIT, anchor), made]
      : context.factory.createBlock([statement(HIT, anchor), made]);
  };
  return ts.visitEachChild(file, visit, context);
};
