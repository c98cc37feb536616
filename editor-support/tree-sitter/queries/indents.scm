[
  (body)
  (changes)
  (kind_body)
  (rule_body)
] @indent.begin

"}" @indent.branch @indent.end

(comment) @indent.auto
