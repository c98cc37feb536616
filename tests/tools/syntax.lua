-- The syntax file run by Neovim: for each file where each stretch of one group stands, in bytes.
--
-- nvim --headless -u NONE -l is newer than 0.7, so: FILES=… OUT=… nvim --headless -u NONE -c 'luafile vim.lua' -c quitall
vim.opt.runtimepath:prepend(vim.env.PLUGIN)
vim.cmd('filetype plugin indent on')
vim.cmd('syntax on')
local found = {}
local names = setmetatable({}, {
  __index = function(known, id)
    known[id] = vim.fn.synIDattr(id, 'name')
    return known[id]
  end,
})
for file in vim.gsplit(vim.env.FILES, '\n', true) do
  vim.cmd('silent edit ' .. vim.fn.fnameescape(file))
  vim.cmd('syntax sync fromstart')
  assert(vim.bo.filetype == 'wallplate', file .. ' is of the type ' .. vim.bo.filetype)
  local runs, at = {}, 0
  for row, line in ipairs(vim.api.nvim_buf_get_lines(0, 0, -1, true)) do
    local from, group = 0, nil
    for column = 1, #line + 1 do
      -- Nobody looks at blanks, and a third of a text are blanks.
      local is_blank = column > #line or line:byte(column) == 32
      local here = not is_blank and names[vim.fn.synID(row, column, 1)]
      if here ~= group then
        if group and group ~= '' then table.insert(runs, { at + from, at + column - 1, group }) end
        from, group = column - 1, here
      end
    end
    at = at + #line + 1
  end
  found[file] = runs
end
local out = assert(io.open(vim.env.OUT, 'w'))
out:write(vim.json and vim.json.encode(found) or vim.fn.json_encode(found))
out:close()
