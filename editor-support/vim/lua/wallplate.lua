-- Starts `wallplate language-server` for .plate files, on Neovim 0.7 and newer.
--
--   require('wallplate').setup()
--   require('wallplate').setup({ program = '/path/to/wallplate', on_attach = function(client, buffer) … end })

local M = {}

-- One server for each folder of designs, for a Neovim that does not keep count itself.
local started = {}

-- The folder that the designs belong to: the one under version control, or the file's own.
local function folder_of(buffer)
  local file = vim.fn.fnamemodify(vim.api.nvim_buf_get_name(buffer), ':p:h')
  local git = vim.fn.finddir('.git', vim.fn.fnameescape(file) .. ';')
  return git ~= '' and vim.fn.fnamemodify(git, ':p:h:h') or file
end

local function start(options, buffer)
  local program = options.program or 'wallplate'
  if vim.fn.executable(program) == 0 then
    vim.notify_once(('wallplate: there is no program `%s`; `cargo install --path . --locked` installs it'):format(program), vim.log.levels.WARN)
    return
  end
  local folder = folder_of(buffer)
  local config = {
    name = 'wallplate',
    cmd = { program, 'language-server' },
    root_dir = folder,
    capabilities = options.capabilities,
    on_attach = options.on_attach,
  }
  if vim.lsp.start then
    vim.lsp.start(config, { bufnr = buffer })
    return
  end
  local client = started[folder]
  if not client or vim.lsp.client_is_stopped(client) then
    client = vim.lsp.start_client(config)
    started[folder] = client
  end
  if client then
    vim.lsp.buf_attach_client(buffer, client)
  end
end

function M.setup(options)
  options = options or {}
  vim.api.nvim_create_autocmd('FileType', {
    group = vim.api.nvim_create_augroup('wallplate', { clear = true }),
    pattern = 'wallplate',
    callback = function(event)
      start(options, event.buf)
    end,
  })
end

return M
