" Vim syntax file: Wallplate, designs of roll-off-roof observatories
"
" Of two matches that begin at one place the one that is defined later wins: words come first here, the first word of a
" line last, since any word may stand there.
if exists('b:current_syntax')
  finish
endif
let s:keep = &cpo
set cpo&vim

syntax case match
syntax sync minlines=300

syntax cluster wallplateValue contains=wallplateComment,wallplateString,wallplateGuessed,wallplateName,wallplateNumber,wallplateDate,wallplateWord,wallplateConditional,wallplateRepeat,wallplateBoolean,wallplateFunction,wallplateParens,wallplateList,wallplateField,wallplateArgument

" ── values ──
syntax match wallplateName "\<[a-z][a-z0-9_]*\>" contained
syntax match wallplateWord "\<\%(and\|or\|not\|to\|by\)\>" contained
syntax match wallplateConditional "\<\%(if\|then\|else\)\>" contained
syntax match wallplateRepeat "\<\%(for\|in\|where\)\>" contained
" The last word of a line whose number nobody knows yet.
syntax match wallplateGuessed "\<guessed\>\%(\s*\%([#;}]\|$\)\)\@=" contained
syntax match wallplateBoolean "\<\%(yes\|no\)\>" contained
syntax match wallplateArgument "\v%([(,]\s*)@<=%(%(if|not|yes|no)>)@![a-z][a-z0-9_]*\ze\s+%(%(%(and|or|not|to|by|for|in|where|then|else|if)>)@![a-z]|[-−]?\.?\d|[\"(\[])" contained
syntax match wallplateFunction "\<[a-z][a-z0-9_]*(\@=" contained
syntax match wallplateField "\.\@1<=[a-z][a-z0-9_]*\>" contained
syntax match wallplateNumber "\v%(<|\.@<!\.@=)%(\d+%(-\d+)?/\d+|\d+%(\.\d+)?%([eE][+-]?\d+)?|\.\d+%([eE][+-]?\d+)?)" contained nextgroup=wallplateUnit skipwhite
syntax match wallplateUnit "\v%(%(and|above|assumed|at_least|at_most|by|below|because|carrying|default|else|for|found|guessed|if|like|not|no|or|required|source|to|then|usually|when|where|yes)>)@!%(1/)?[A-Za-z°º℃℉µμΩΩ%€£$]+%(_[A-Za-z]+)*%(\^-?\d+|\d+|⁻?[¹²³⁴])?%([/*·⋅-][A-Za-z°º℃℉µμΩΩ%€£$]+%(_[A-Za-z]+)*%(\^-?\d+|\d+|⁻?[¹²³⁴])?)*" contained
syntax match wallplateDate "\<\d\{4}-\d\{2}-\d\{2}\>" contained
syntax region wallplateParens start="(" end=")" contained transparent contains=@wallplateValue
syntax region wallplateList start="\[" end="\]" contained transparent contains=@wallplateValue
syntax region wallplateString start=+"+ skip=+\\["\\]+ end=+"+ oneline contains=@Spell
syntax match wallplateComment "#.*$" contains=@Spell

" ── the vocabulary ──
syntax match wallplateClause "\<\%(required\|default\|assumed\|because\|source\|carrying\|above\|below\|at_least\|at_most\|usually\|found\|when\)\>" contained
syntax match wallplateClause "\<\%(links\=\%(\s\+to\>\)\@=\|\%(one\|list\|range\|size\)\%(\s\+of\>\)\@=\|\%(\<\%(one\|list\|range\|size\)\s\+\)\@<=of\)\>" contained

" ── lines ──
" A line that only goes on from the one above has no name.
syntax match wallplateProperty "\v%(%(^|[{;])\s*)@<=%(%([,+\-*/^<>=±−·⋅≤≥≠]|<%(and|or|not|then|else|where|for|because))\s*%(#.*)?\n\s*)@<![a-z][a-z0-9_]*>" contained
" A line of a kind that begins so goes on with the property above it.
syntax match wallplateMore "\v%(%(^|[{;])\s*)@<=%(default|assumed|usually|found)>" contained
syntax match wallplateEach "\v%(%(^|[{;])\s*)@<=%(each|for)>" contained
syntax match wallplateChange "\v%(%(^|[{;])\s*)@<=[a-z][a-z0-9_]*>%(\s*%(\[\d+\]\s*)?\{)@=" contained
syntax match wallplateLet "\v%(%(^|[{;])\s*)@<=let>" contained nextgroup=wallplateDeclared skipwhite
syntax region wallplateBlock matchgroup=wallplateBrace start="{" end="}" fold contains=@wallplateValue,wallplateProperty,wallplateChange,wallplateBlock
syntax region wallplateRuleBlock matchgroup=wallplateBrace start="{" end="}" contained fold contains=@wallplateValue,wallplateProperty,wallplateEach,wallplateLet
syntax region wallplateKindBlock matchgroup=wallplateBrace start="{" end="}" contained fold contains=@wallplateValue,wallplateClause,wallplateProperty,wallplateMore,wallplateLet
syntax region wallplateChanges matchgroup=wallplateBrace start="{" end="}" contained fold contains=@wallplateValue,wallplateChange,wallplateLet,wallplateBlock

" ── statements ──
syntax match wallplateKind "\v%(%(^|[;}])\s*)@<=[a-z][a-z0-9_]*>" nextgroup=wallplateDeclared,wallplateLike skipwhite
syntax match wallplateDeclared "\<[a-z][a-z0-9_]*\>" contained nextgroup=wallplateLike,wallplateElements skipwhite
syntax match wallplateElements "\[\d\+\.\.\d\+\]" contained contains=wallplateNumber nextgroup=wallplateLike skipwhite
syntax match wallplateLike "\<like\>" nextgroup=wallplateDeclared skipwhite
syntax match wallplateKeyword "\v%(%(^|[;}])\s*)@<=pattern>" nextgroup=wallplateKindOf skipwhite
syntax match wallplateKindOf "\<[a-z][a-z0-9_]*\>" contained nextgroup=wallplateDeclared skipwhite
syntax match wallplateKeyword "\v%(%(^|[;}])\s*)@<=%(kind|formula|table|carried|paper|state|sheet|sheet_view|drawn)>" nextgroup=wallplateKindName skipwhite
syntax match wallplateKindName "\<[a-z][a-z0-9_]*\>" contained nextgroup=wallplateKindTitle,wallplateKindBlock skipwhite skipempty
syntax region wallplateKindTitle start=+"+ skip=+\\["\\]+ end=+"+ oneline contained contains=@Spell nextgroup=wallplateKindPlus,wallplateKindBlock skipwhite skipempty
syntax match wallplateKindPlus "+" contained nextgroup=wallplateKindTitle skipwhite skipempty
syntax match wallplateKeyword "\v%(%(^|[;}])\s*)@<=use>" nextgroup=wallplateUsed skipwhite
syntax match wallplateUsed "\<[a-z][a-z0-9_]*\>" contained
syntax region wallplateLetLine start="\v%(%(^|[;}])\s*)@<=let>" skip=+"\%([^"\\]\|\\["\\]\)*"+ end="\v%([,+\-*/^<>=±−·⋅≤≥≠]\s*%(#.*)?)@<!$|;@=" contains=@wallplateValue,wallplateLetWord keepend
syntax match wallplateLetWord "\v<let>" contained nextgroup=wallplateDeclared skipwhite
syntax match wallplateKeyword "\v%(%(^|[;}])\s*)@<=variant>" nextgroup=wallplateChangesName skipwhite
syntax match wallplateChangesName "\<[a-z][a-z0-9_]*\>" contained nextgroup=wallplateChangesTitle,wallplateChanges skipwhite skipempty
syntax match wallplateKeyword "\v%(%(^|[;}])\s*)@<=measured>" nextgroup=wallplateMeasuredOn skipwhite
syntax match wallplateMeasuredOn "\<\d\{4}-\d\{2}-\d\{2}\>" contained nextgroup=wallplateChangesTitle,wallplateChanges skipwhite skipempty
syntax region wallplateChangesTitle start=+"+ skip=+\\["\\]+ end=+"+ oneline contained contains=@Spell nextgroup=wallplateChangesPlus,wallplateChanges skipwhite skipempty
syntax match wallplateChangesPlus "+" contained nextgroup=wallplateChangesTitle skipwhite skipempty
" A check, what was accepted, what goes onto paper: a word and a name with dots, or several.
syntax match wallplateKeyword "\v%(%(^|[;}])\s*)@<=[a-z][a-z0-9_]*>%(\s+[a-z][a-z0-9_]*\.)@=" nextgroup=wallplateRule skipwhite
syntax match wallplateRule "\v<[a-z][a-z0-9_]*%(\.[a-z][a-z0-9_]*)+>" contained nextgroup=wallplateRuleComma,wallplateRuleTitle,wallplateRuleBlock skipwhite skipempty
syntax match wallplateRuleComma "," contained nextgroup=wallplateRule skipwhite skipempty
syntax region wallplateRuleTitle start=+"+ skip=+\\["\\]+ end=+"+ oneline contained contains=@Spell nextgroup=wallplateRulePlus,wallplateRuleBlock skipwhite skipempty
syntax match wallplateRulePlus "+" contained nextgroup=wallplateRuleTitle skipwhite skipempty

highlight default link wallplateComment Comment
highlight default link wallplateString String
highlight default link wallplateKindTitle String
highlight default link wallplateChangesTitle String
highlight default link wallplateRuleTitle String
highlight default link wallplateNumber Number
highlight default link wallplateDate Constant
highlight default link wallplateMeasuredOn Constant
highlight default link wallplateUnit Special
highlight default link wallplateBoolean Boolean
highlight default link wallplateKeyword Keyword
highlight default link wallplateLetWord Keyword
highlight default link wallplateLet Keyword
highlight default link wallplateLike Keyword
highlight default link wallplateEach Keyword
highlight default link wallplateClause Keyword
highlight default link wallplateMore Keyword
highlight default link wallplateConditional Conditional
highlight default link wallplateRepeat Repeat
highlight default link wallplateGuessed Todo
highlight default link wallplateWord Operator
highlight default link wallplateKind Type
highlight default link wallplateKindOf Type
highlight default link wallplateKindName Type
highlight default link wallplateDeclared Structure
highlight default link wallplateChangesName Structure
highlight default link wallplateChange Structure
highlight default link wallplateUsed Include
highlight default link wallplateRule Function
highlight default link wallplateFunction Function
highlight default link wallplateProperty Identifier

let b:current_syntax = 'wallplate'
let &cpo = s:keep
unlet s:keep
