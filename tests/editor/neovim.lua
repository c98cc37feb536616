-- A builder's first minutes in Neovim, set up as editor-support/vim/README.md says (tests/tools/neovim does that): opens
-- the first example, breaks a line, reads the message, takes the mend that is offered, renames a wall.
-- Written for Neovim 0.7 and later: no `-l`, positions in UTF-16 units.

local here = vim.fn.getcwd()

local function say(text)
  io.stdout:write(text .. '\n')
end

local function stop(text)
  say('FAILED: ' .. text)
  vim.cmd('cquit 1')
end

local function wait(what, condition)
  if not vim.wait(20000, condition, 20) then
    stop('waited in vain for ' .. what)
  end
end

local folder = vim.fn.tempname()
vim.fn.mkdir(folder, 'p')
local file = folder .. '/heron_fold.plate'
vim.fn.writefile(vim.fn.readfile(here .. '/examples/heron_fold.plate'), file)

vim.cmd('edit ' .. file)
local buffer = vim.api.nvim_get_current_buf()

wait('the server', function()
  for _, client in pairs(vim.lsp.buf_get_clients(buffer)) do
    if client.initialized then
      return true
    end
  end
  return false
end)

local function lines()
  return vim.api.nvim_buf_get_lines(buffer, 0, -1, false)
end

local function line_of(pattern)
  for number, text in ipairs(lines()) do
    if text:find(pattern, 1, true) then
      return number, text
    end
  end
  stop('no line with ' .. pattern)
end

local function mistakes()
  return vim.tbl_filter(function(one)
    return one.severity == vim.diagnostic.severity.ERROR
  end, vim.diagnostic.get(buffer))
end

-- Diagnostics appear where a line breaks.
local number, text = line_of('enclosure          enclosed')
say('broke line ' .. number .. ': ' .. text)
vim.api.nvim_buf_set_lines(buffer, number - 1, number, false, { (text:gsub('enclosure', 'enclosur')) })
wait('a diagnostic', function()
  return #mistakes() > 0
end)
local mistake = mistakes()[1]
say('message at line ' .. (mistake.lnum + 1) .. ': ' .. mistake.message:gsub('\n', ' | '))
if mistake.lnum + 1 ~= number then
  stop('the message stands at another line')
end

-- The mend that is offered is taken.
vim.ui.select = function(items, _, choose)
  local action = items[1][2] or items[1].action
  say('action: ' .. action.title)
  choose(items[1], 1)
end
vim.api.nvim_win_set_cursor(0, { number, 4 })
vim.api.nvim_feedkeys(vim.api.nvim_replace_termcodes('<leader>a', true, false, true), 'mx', false)
wait('the mended line', function()
  return lines()[number] == text
end)
wait('no mistakes', function()
  return #mistakes() == 0
end)
say('mended: ' .. lines()[number])

-- Renaming changes every place.
local wall = line_of('wall east_wall')
local _, places = table.concat(lines(), '\n'):gsub('east_wall', '')
vim.api.nvim_win_set_cursor(0, { wall, 6 })
vim.lsp.buf.rename('long_wall')
wait('the renamed wall', function()
  return lines()[wall]:find('wall long_wall', 1, true) ~= nil
end)
local _, renamed = table.concat(lines(), '\n'):gsub('long_wall', '')
local _, left = table.concat(lines(), '\n'):gsub('east_wall', '')
say('renamed ' .. renamed .. ' of ' .. places .. ' places')
if renamed ~= places or left ~= 0 then
  stop('a place was left out')
end
wait('no mistakes after it', function()
  return #mistakes() == 0
end)

vim.fn.delete(folder, 'rf')
say('PASSED')
vim.cmd('qall!')
