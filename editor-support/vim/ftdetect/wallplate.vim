autocmd BufRead,BufNewFile *.plate setfiletype wallplate
