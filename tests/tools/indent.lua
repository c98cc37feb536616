-- The indent file run by Neovim over texts that are laid out: names each line that `gg=G` would move.
-- FILES=… OUT=… PLUGIN=… nvim --headless -u NONE -c 'luafile indent.lua' -c quitall!
vim.opt.runtimepath:prepend(vim.env.PLUGIN)
vim.cmd('filetype plugin indent on')
local moved = {}
for file in vim.gsplit(vim.env.FILES, '\n', true) do
  vim.cmd('silent edit ' .. vim.fn.fnameescape(file))
  local before = vim.api.nvim_buf_get_lines(0, 0, -1, true)
  vim.cmd('silent normal! gg=G')
  for row, line in ipairs(vim.api.nvim_buf_get_lines(0, 0, -1, true)) do
    if line ~= before[row] then table.insert(moved, file .. ':' .. row .. ': ' .. line) end
  end
  vim.cmd('silent edit!')
end
local out = assert(io.open(vim.env.OUT, 'w'))
out:write(table.concat(moved, '\n'))
out:close()
