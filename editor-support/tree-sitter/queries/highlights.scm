; Standard capture names only: the colours are the theme's. A later pattern wins over an earlier one.

(comment) @comment
(string) @string
(number) @number
(date) @constant
(unit) @type.builtin
(boolean) @boolean

(reference (name) @variable)
(binder name: (name) @variable)
(repeated (name) @variable)
(argument name: (name) @variable.parameter)
(field property: (name) @variable.member)
(call function: (name) @function.call)

; What a line says of what.
(line property: (name) @property)
(fact property: (name) @property)
(property property: (name) @property)
(property type: (type (name) @variable))
(property (name) @variable)
(more (name) @variable)
(property property: (name) @property)

; The kind that a block is of, and the name that it gives.
(component kind: (name) @type)
(pattern kind: (name) @type)
(kind name: (name) @type)
(words name: (name) @type)
(component name: (name) @constructor)
(pattern name: (name) @constructor)
(like pattern: (name) @constructor)
(variant name: (name) @constructor)
(change component: (name) @constructor)
(let name: (name) @constructor)
(use catalogue: (name) @module)
(path (name) @function)

[
  "use" "let" "pattern" "variant" "measured" "accept" "kind" "formula" "table" "carried" "paper" "state" "sheet" "sheet_view" "drawn" "rule" "picture" "purchase" "task" "reminder" "roll" "zone" "reading" "review" "account" "like" "each"
  "required" "default" "assumed" "because" "source" "carrying" "above" "below" "at_least" "at_most" "usually" "found" "guessed" "when" "as" "item" "root"
  "link" "links" "one" "list" "range" "size" "of"
] @keyword
(fact property: (name) @property)
["if" "then" "else"] @keyword.conditional
["for" "in" "where"] @keyword.repeat
["and" "or" "not" "to" "by"] @keyword.operator
["+" "-" "−" "*" "·" "⋅" "/" "^" "==" "!=" "≠" "<" "<=" "≤" ">" ">=" "≥" "±" "+-" "+/-" ".."] @operator
["(" ")" "[" "]" "{" "}"] @punctuation.bracket
["," "." ";"] @punctuation.delimiter
