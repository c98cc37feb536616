" Vim filetype plugin: Wallplate, designs of roll-off-roof observatories
if exists('b:did_ftplugin')
  finish
endif
let b:did_ftplugin = 1

setlocal comments=:# commentstring=#\ %s
setlocal expandtab shiftwidth=2 softtabstop=2
setlocal iskeyword=a-z,A-Z,48-57,_
" `use "parts/clamps.plate"`: gf goes there.
setlocal suffixesadd=.plate include=^\\s*use
if executable('wallplate')
  " gggqG lays the whole file out.
  setlocal formatprg=wallplate\ tidy\ -
endif

let b:undo_ftplugin = 'setlocal comments< commentstring< expandtab< shiftwidth< softtabstop< iskeyword< suffixesadd< include< formatprg<'
