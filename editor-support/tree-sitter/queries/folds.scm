[
  (body)
  (changes)
  (kind_body)
  (rule_body)
  (group)
  (list)
  (call)
] @fold
