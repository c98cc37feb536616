" Vim indent file: Wallplate
if exists('b:did_indent')
  finish
endif
let b:did_indent = 1

setlocal indentexpr=WallplateIndent(v:lnum)
setlocal indentkeys=0},o,O,!^F
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
  return a:line =~# '[,+*/^<>=-]\s*$\|\<\%(and\|or\|not\|then\|else\|where\|for\)\s*$'
endfunction

" Whether a bracket of a value is open at the end of a line.
function! s:InBrackets(number)
  let open = 0
  let at = a:number
  while at > 0 && at > a:number - 60
    let line = s:Bare(at)
    let open += count(line, '(') + count(line, '[') - count(line, ')') - count(line, ']')
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

function! WallplateIndent(number)
  let before = prevnonblank(a:number - 1)
  if before == 0
    return 0
  endif
  if s:InBrackets(before)
    " As it stands, or as the line before.
    return -1
  endif
  let line = s:Bare(before)
  let indent = indent(before)
  if s:GoesOn(line)
    " A bracket that it closes may have been opened further up.
    let start = before
    while start > 1 && s:InBrackets(prevnonblank(start - 1))
      let start = prevnonblank(start - 1)
    endwhile
    let above = prevnonblank(start - 1)
    if above > 0 && s:GoesOn(s:Bare(above))
      return indent(start)
    endif
    return strdisplaywidth(matchstr(s:Bare(start), '^\s*\%([a-z]\+\s\+{\s*\)\=\%(let\s\+\)\=\h\w*\s\+'))
  endif
  let above = prevnonblank(before - 1)
  if above > 0 && (s:GoesOn(s:Bare(above)) || s:InBrackets(above))
    " Back from the last line of a long value to the line that it belongs to.
    let start = above
    while start > 1 && (s:GoesOn(s:Bare(start - 1)) || s:InBrackets(start - 1))
      let start -= 1
    endwhile
    let indent = indent(start)
  endif
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
