" Vim indent file: Wallplate
if exists('b:did_indent')
  finish
endif
let b:did_indent = 1

setlocal indentexpr=WallplateIndent(v:lnum)
setlocal indentkeys=0},0),0],0=default,0=assumed,0=usually,0=found,o,O,!^F
let b:undo_indent = 'setlocal indentexpr< indentkeys<'

if exists('*WallplateIndent')
  finish
endif

" A line without its texts and its comment.
function! s:Bare(number)
  let line = substitute(getline(a:number), '"\%(\\["\\]\|[^"]\)*"', '""', 'g')
  return substitute(line, '\s*#.*$', '', '')
endfunction

" A value that ends with a comma or an operator goes on below itself.
function! s:GoesOn(line)
  return a:line =~# '[,+*/^<>=±−·⋅≤≥≠-]\s*$\|\<\%(and\|or\|not\|then\|else\|where\|for\|because\)\s*$'
endfunction

" A property of a kind goes on in a line that begins with a text, `default`, `assumed`, `usually` or `found`.
function! s:IsClause(line)
  return a:line =~# '^\s*\%("\|\%(default\|assumed\|usually\|found\)\>\)'
endfunction

" Whether what begins in a line has a title that goes on in another: it stands in no block, and no `let` names it.
function! s:IsHeader(start)
  return s:Bare(a:start) =~# '^\%(let\>\)\@![a-z]' && s:Bare(a:start) !~# '{'
endfunction

" The line above that says something; 0 if there is none.
function! s:Above(number)
  let above = prevnonblank(a:number - 1)
  while above > 0 && s:Bare(above) ==# ''
    let above = prevnonblank(above - 1)
  endwhile
  return above
endfunction

" How many more brackets of values are opened in a line than closed.
function! s:Opened(line)
  return count(a:line, '(') + count(a:line, '[') - count(a:line, ')') - count(a:line, ']')
endfunction

" Whether a bracket of a value is open at the end of a line.
function! s:InBrackets(number)
  let open = 0
  let at = a:number
  while at > 0 && at > a:number - 60
    let line = s:Bare(at)
    let open += s:Opened(line)
    if open > 0
      return 1
    endif
    if line =~# '[{}]'
      return 0
    endif
    let at -= 1
  endwhile
  return 0
endfunction

" The line in which begins what stands, or goes on, in a line.
function! s:Start(number)
  let start = a:number
  let above = s:Above(start)
  while above > 0 && (s:IsClause(s:Bare(start)) || s:GoesOn(s:Bare(above)) || s:InBrackets(above))
    let start = above
    let above = s:Above(start)
  endwhile
  return start
endfunction

function! WallplateIndent(number)
  let before = s:Above(a:number)
  if before == 0
    return 0
  endif
  let start = s:Start(a:number)
  if start < a:number
    " Below the value that goes on, two blanks further for each bracket that is open around the line.
    let open = s:Opened(matchstr(s:Bare(a:number), '^[])[:blank:]]*'))
    for number in range(start, before)
      let open += s:Opened(s:Bare(number))
    endfor
    " A header has no value, and goes on where the lines of its block begin.
    if s:IsHeader(start)
      return indent(start) + shiftwidth()
    endif
    let value = matchstr(s:Bare(start), '^\s*\%([a-z]\+\s\+{\s*\)\=\%(let\s\+\)\=\h\w*\s\+')
    return strdisplaywidth(value) + max([open, 0]) * shiftwidth()
  endif
  let indent = indent(s:Start(before))
  let line = s:Bare(before)
  let open = count(line, '{') - count(line, '}')
  if line =~# '^\s*}'
    let open += 1
  endif
  if open > 0
    let indent += shiftwidth()
  elseif open < 0
    let indent -= shiftwidth()
  endif
  if getline(a:number) =~# '^\s*}'
    let indent -= shiftwidth()
  endif
  return max([indent, 0])
endfunction
