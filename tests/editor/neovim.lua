-- A builder's first minutes in Neovim, set up as editor-support/vim/README.md says (tests/tools/neovim does that): opens
-- the first example, breaks a line, reads the message, takes the mend that is offered, renames a wall.
-- Written for Neovim 0.7 and later, without a word that a later one (0.12 so far) calls deprecated.

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

if vim.deprecate then
  vim.deprecate = function(name)
    stop(name .. ' is deprecated here')
  end
end

local function press(keys)
  vim.api.nvim_feedkeys(vim.api.nvim_replace_termcodes(keys, true, false, true), 'mx', false)
end

local folder = vim.fn.tempname()
vim.fn.mkdir(folder, 'p')
local file = folder .. '/heron_fold.plate'
vim.fn.writefile(vim.fn.readfile(here .. '/examples/heron_fold.plate'), file)

vim.cmd('edit ' .. file)
local buffer = vim.api.nvim_get_current_buf()

wait('the server', function()
  local clients = vim.lsp.get_clients or vim.lsp.get_active_clients
  local _, client = next(clients({ bufnr = buffer }))
  return client ~= nil and client.initialized == true
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

wait('the message beside the line', function()
  for _, source in pairs(vim.diagnostic.get_namespaces()) do
    local space = source.user_data.virt_text_ns
    for _, mark in ipairs(not space and {} or vim.api.nvim_buf_get_extmarks(buffer, space, { number - 1, 0 }, { number - 1, -1 }, { details = true })) do
      if vim.inspect(mark[4].virt_text or ''):find('a roof has no', 1, true) then
        return true
      end
    end
  end
  return false
end)
vim.api.nvim_win_set_cursor(0, { number - 3, 0 })
press(']d')
if vim.api.nvim_win_get_cursor(0)[1] ~= number then
  stop(']d goes to line ' .. vim.api.nvim_win_get_cursor(0)[1])
end

-- The mend that is offered is taken.
vim.ui.select = function(items, _, choose)
  local action = items[1][2] or items[1].action
  say('action: ' .. action.title)
  choose(items[1], 1)
end
vim.api.nvim_win_set_cursor(0, { number, 4 })
press('<leader>a')
wait('the mended line', function()
  return lines()[number] == text
end)
wait('no mistakes', function()
  return #mistakes() == 0
end)
say('mended: ' .. lines()[number])

-- What a number is, over it.
vim.api.nvim_win_set_cursor(0, { line_of('operating_wind'), 4 })
press('K')
local hover
wait('a hover', function()
  for _, window in ipairs(vim.api.nvim_list_wins()) do
    if vim.api.nvim_win_get_config(window).relative ~= '' then
      hover = table.concat(vim.api.nvim_buf_get_lines(vim.api.nvim_win_get_buf(window), 0, -1, false), ' ')
      return hover:find('9 m/s', 1, true) ~= nil
    end
  end
  return false
end)
say('hover: ' .. hover:sub(1, 100))

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
