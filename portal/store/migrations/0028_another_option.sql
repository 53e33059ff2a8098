-- `question`: they ask before they answer. `another_option`: they want none of the options, and say what instead.
ALTER TABLE "question_back" ADD COLUMN "kind" VARCHAR(255) NOT NULL DEFAULT 'question';
