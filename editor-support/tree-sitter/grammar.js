/**
 * Wallplate for tree-sitter: one statement form, a name and a value on a line, lines in blocks.
 *
 * grammar/wallplate.pest is the language; this follows it for colours and folds, and is held against it by a test.
 *
 * A newline is a token only where a line can end. Inside brackets, after a comma or an operator and before a `{` none can,
 * so that it is a blank there, as the language wants it.
 */

/// <reference types="tree-sitter-cli/dsl" />

const NUMBER = /\d+(-\d+)?\/\d+|\d+(\.\d+)?([eE][+-]?\d+)?|\.\d+([eE][+-]?\d+)?/;
const UNIT =
  /(1\/)?[A-Za-z°º℃℉µμΩΩ%€£$]+(_[A-Za-z]+)*(\^-?\d+|\d+|⁻?[¹²³⁴])?([\/*·⋅-][A-Za-z°º℃℉µμΩΩ%€£$]+(_[A-Za-z]+)*(\^-?\d+|\d+|⁻?[¹²³⁴])?)*/;
const NAME = /[a-z][a-z0-9_]*/;

const PREC = { if: 0, or: 1, and: 2, compare: 3, add: 4, multiply: 5, unary: 6, power: 7, postfix: 8 };

const listed = (rule) => seq(rule, repeat(seq(',', rule)));
const minus = choice('-', '−');

/** Lines between `{` and `}`, each ended by a newline, a `;` or the `}`. */
const block = ($, entry) => seq('{', repeat(choice($._end, seq(entry, $._end))), optional(entry), '}');

module.exports = grammar({
  name: 'wallplate',

  extras: ($) => [/\s/, $.comment],

  rules: {
    source_file: ($) =>
      seq(
        optional('\uFEFF'),
        repeat(choice($._end, seq($._one_liner, $._end), $._block_statement)),
        optional($._one_liner),
      ),

    _end: (_) => choice('\n', ';'),
    comment: (_) => token(seq('#', /[^\r\n]*/)),

    // ── statements ──────────────────────────────────────────────────────────────────────────────
    _one_liner: ($) => choice($.use, $.let),
    use: ($) => seq('use', choice($.string, field('catalogue', $.name))),
    let: ($) => seq('let', field('name', $.name), field('value', $.value), optional('guessed')),

    _block_statement: ($) =>
      choice($.component, $.pattern, $.variant, $.measured, $.accept, $.kind, $.words, $.rule),

    component: ($) =>
      seq(
        field('kind', $.name),
        optional(seq(field('name', $.name), optional($.elements))),
        optional($._title),
        optional($.like),
        field('body', $.body),
      ),
    elements: ($) => seq('[', alias(/\d+/, $.number), '..', alias(/\d+/, $.number), ']'),
    like: ($) => seq('like', field('pattern', $.name)),
    pattern: ($) =>
      seq(
        'pattern',
        field('kind', $.name),
        field('name', $.name),
        optional($._title),
        optional($.like),
        field('body', $.body),
      ),
    body: ($) => block($, $.line),
    line: ($) => seq(field('property', $.name), field('value', $.value), optional('guessed')),

    variant: ($) =>
      seq('variant', field('name', $.name), optional($._title), field('body', $.changes)),
    measured: ($) =>
      seq('measured', field('date', $.date), optional($._title), field('body', $.changes)),
    changes: ($) => block($, choice($.change, $.let)),
    change: ($) =>
      seq(field('component', $.name), optional(seq('[', alias(/\d+/, $.number), ']')), field('body', $.body)),

    accept: ($) =>
      seq('accept', field('rule', $.path), optional($._title), field('body', $.body)),

    kind: ($) =>
      seq(choice('kind', 'formula', 'table', 'carried', 'paper'), field('name', $.name), optional($._title), field('body', $.kind_body)),
    // States, sheets and the views on them, words that a small drawing explains.
    words: ($) =>
      seq(choice('state', 'sheet', 'sheet_view', 'drawn'), field('name', $.name), optional($._title), field('body', $.body)),
    kind_body: ($) => block($, choice($.let, $.fact, $.property, $.more)),
    // A line that begins with a text, `default`, `assumed`, `usually` or `found` goes on with the property above it.
    more: ($) => seq(choice($._texts, $._worked_out, $._usual, $._found), repeat($._clause)),
    fact: ($) =>
      seq(
        field('property', alias(choice('one_only', 'ground', 'catalogue_entry', 'titles_design', 'every_building', 'needs', 'source', 'caution', 'note', 'asks_the_design', 'binds'), $.name)),
        field('value', $.value),
      ),
    property: ($) => seq(field('property', $.name), field('type', $.type), repeat($._clause)),
    type: ($) =>
      choice(
        seq(choice('link', 'links'), 'to', listed($.name)),
        seq('one', 'of', listed($.name)),
        seq(choice('list', 'range', 'size', 'item', 'root'), 'of', $.name),
        seq('as', $.name),
        $.name,
      ),
    _clause: ($) =>
      choice(
        'required',
        $._worked_out,
        $._usual,
        $._found,
        seq('source', $._texts),
        seq('carrying', listed($.name)),
        seq('when', $._expression),
        seq(choice('at_least', 'at_most', 'above', 'below'), $._item),
        $._texts,
      ),
    _worked_out: ($) => choice(seq('default', $._item), seq('assumed', $._item, 'because', $._texts)),
    _usual: ($) => seq('usually', $._item, 'because', $._texts),
    _found: ($) => seq('found', $._texts),
    // One text in pieces, for a line holds only so much.
    _texts: ($) => seq($.string, repeat(seq('+', $.string))),

    _title: ($) => seq(field('title', $.string), repeat(seq('+', field('title', $.string)))),

    // A check, or several that are written once; and what goes onto paper.
    rule: ($) =>
      seq(
        choice(
          seq('rule', listed(field('name', $.path))),
          seq(
            choice('picture', 'purchase', 'task', 'reminder', 'roll', 'zone', 'reading', 'review', 'account'),
            field('name', $.path),
          ),
        ),
        optional($._title),
        field('body', $.rule_body),
      ),
    rule_body: ($) => block($, choice($.each, $.repeated, $.let, $.line)),
    repeated: ($) => seq('for', field('name', $.name), 'in', '[', listed($.name), ']'),
    each: ($) => seq('each', listed($.binder)),
    binder: ($) =>
      seq(
        field('name', $.name),
        'in',
        field('source', $._expression),
        optional(seq('where', field('condition', $._expression))),
      ),

    // ── values ──────────────────────────────────────────────────────────────────────────────────
    value: ($) => listed($._item),
    _item: ($) => choice($._toleranced, $.range, $.size),
    _toleranced: ($) => choice($._expression, $.toleranced),
    toleranced: ($) =>
      seq($._expression, choice(seq(choice('±', '+-', '+/-'), $._expression), $.signed_pair)),
    // `+3 mm -0 mm`: the signs touch their numbers. `a +3 mm` alone is a sum, which only what follows can tell.
    signed_pair: ($) =>
      prec.dynamic(1, seq('+', $._touching, optional($.unit), minus, $._touching, optional($.unit))),
    _touching: ($) => alias(token.immediate(NUMBER), $.number),
    range: ($) => seq($._toleranced, 'to', $._toleranced),
    size: ($) => seq($._toleranced, repeat1(seq('by', $._toleranced))),

    _expression: ($) =>
      choice(
        $.quantity,
        $.date,
        $.string,
        $.boolean,
        $.reference,
        $.field,
        $.index,
        $.call,
        $.unary,
        $.binary,
        $.conditional,
        $.group,
        $.list,
      ),

    quantity: ($) => prec.right(seq(choice($.number, $._touching), optional(seq($.unit, repeat(seq($.number, $.unit)))))),
    number: (_) => token(NUMBER),
    unit: (_) => token(UNIT),
    date: (_) => token(prec(1, /\d{4}-\d{2}-\d{2}/)),
    string: (_) => token(/"(\\["\\]|[^"\r\n])*"/),
    boolean: (_) => choice('yes', 'no'),
    name: (_) => token(NAME),
    // Before the name of an argument: `f(a -b)` is a subtraction.
    reference: ($) => prec(1, $.name),
    path: ($) => seq($.name, repeat1(seq(token.immediate('.'), alias(token.immediate(NAME), $.name)))),

    field: ($) => prec(PREC.postfix, seq($._expression, '.', field('property', alias(token.immediate(NAME), $.name)))),
    index: ($) => prec(PREC.postfix, seq($._expression, token.immediate('['), $._item, ']')),
    call: ($) =>
      prec(
        PREC.postfix,
        seq(
          field('function', $.name),
          token.immediate('('),
          optional(seq($.argument, choice(repeat(seq(',', $.argument)), seq('for', listed($.binder))))),
          ')',
        ),
      ),
    argument: ($) => seq(optional(field('name', $.name)), $._item),
    unary: ($) => prec(PREC.unary, seq(choice(minus, 'not'), $._expression)),
    binary: ($) =>
      choice(
        ...[
          ['or', PREC.or],
          ['and', PREC.and],
          [choice('==', '!=', '≠', '<', '<=', '≤', '>', '>=', '≥'), PREC.compare],
          [choice('+', minus), PREC.add],
          [choice('*', '·', '⋅', '/'), PREC.multiply],
          ['^', PREC.power],
        ].map(([operator, level]) => prec.left(level, seq($._expression, field('operator', operator), $._expression))),
      ),
    conditional: ($) =>
      prec.right(PREC.if, seq('if', $._expression, 'then', $._expression, 'else', $._expression)),
    group: ($) => seq('(', $._item, ')'),
    list: ($) => seq('[', optional(listed($._item)), ']'),
  },
});
