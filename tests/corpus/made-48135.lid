rows sums  from "Lump sums"
    what          text    heading "What" or "Sum"
    amount        money   heading "Amount"
    stands_alone  yes/no  heading "Allowance"  otherwise no
        "Yes: an allowance, stated in the price without mark-ups. No: a lump sum of the direct cost."
end
-- One code serves every length of sheet; where the yard's codes tell lengths apart, add a row from each length on.

for job
    check c0  0 < sum of lines (cost) / $1 else warns "{t0}"
    t0 "T" = 0 * 2
    check c1  1 < sum of lines (cost) / $1 else warns "{t1}"
    t1 "T" = 1 * 2
    check c2  2 < sum of lines (cost) / $1 else warns "{t2}"
    t2 "T" = 2 * 2
    check c3  3 < sum of lines (cost) / $1 else warns "{t3}"
    t3 "T" = 3 * 2
    check c4  4 < sum of lines (cost) / $1 else warns "{t4}"
    t4 "T" = 4 * 2
    check c5  5 < sum of lines (cost) / $1 else warns "{t5}"
    t5 "T" = 5 * 2
    check c6  6 < sum of lines (cost) / $1 else warns "{t6}"
    t6 "T" = 6 * 2
    check c7  7 < sum of lines (cost) / $1 else warns "{t7}"
    t7 "T" = 7 * 2
    check c8  8 < sum of lines (cost) / $1 else warns "{t8}"
    t8 "T" = 8 * 2
    check c9  9 < sum of lines (cost) / $1 else warns "{t9}"
    t9 "T" = 9 * 2
    check c10  10 < sum of lines (cost) / $1 else warns "{t10}"
    t10 "T" = 10 * 2
    check c11  11 < sum of lines (cost) / $1 else warns "{t11}"
    t11 "T" = 11 * 2
    check c12  12 < sum of lines (cost) / $1 else warns "{t12}"
    t12 "T" = 12 * 2
    check c13  13 < sum of lines (cost) / $1 else warns "{t13}"
    t13 "T" = 13 * 2
    check c14  14 < sum of lines (cost) / $1 else warns "{t14}"
    t14 "T" = 14 * 2
    check c15  15 < sum of lines (cost) / $1 else warns "{t15}"
    t15 "T" = 15 * 2
    check c16  16 < sum of lines (cost) / $1 else warns "{t16}"
    t16 "T" = 16 * 2
    check c17  17 < sum of lines (cost) / $1 else warns "{t17}"
    t17 "T" = 17 * 2
    check c18  18 < sum of lines (cost) / $1 else warns "{t18}"
    t18 "T" = 18 * 2
    check c19  19 < sum of lines (cost) / $1 else warns "{t19}"
    t19 "T" = 19 * 2
    check c20  20 < sum of lines (cost) / $1 else warns "{t20}"
    t20 "T" = 20 * 2
    check c21  21 < sum of lines (cost) / $1 else warns "{t21}"
    t21 "T" = 21 * 2
    check c22  22 < sum of lines (cost) / $1 else warns "{t22}"
    t22 "T" = 22 * 2
    check c23  23 < sum of lines (cost) / $1 else warns "{t23}"
    t23 "T" = 23 * 2
    check c24  24 < sum of lines (cost) / $1 else warns "{t24}"
    t24 "T" = 24 * 2
    check c25  25 < sum of lines (cost) / $1 else warns "{t25}"
    t25 "T" = 25 * 2
    check c26  26 < sum of lines (cost) / $1 else warns "{t26}"
    t26 "T" = 26 * 2
    check c27  27 < sum of lines (cost) / $1 else warns "{t27}"
    t27 "T" = 27 * 1 ft/1/1/1/1
    check c28  28 < sum of lines (cost) / $1 else warns "{t28}"
    t28 "T" = 28 * 2
    check c29  29 < sum of lines (cost) / $1 else warns "{t29}"
    t29 "T" = 29 * 2
     c30  30 < sum of lines (cost) / $1 else warns "{t30}"
    t30 "T" = 30 * 2
    check c31  31 < sum of lines (cost) / $1 else warns "{t31}"
    t31 "T" = 31 * 2
    check c32  32 < sum of lines (cost) / $1 else warns "{t32}"
    t32 "T" = 32 * 2
    check c33  33 < sum of lines (cost) / $1 else warns "{t33}"
    t33 "T" = 33 * 2
    check c34  34 < sum of lines (cost) / $1 else warns "{t34}"
    t34 "T" = 34 * 2
    check c35  35 < sum of lines (cost) / $1 elsc warns "{t35}"
    t35 "T" = 35 * 2
    check c36  36 < sum of lines (cost) / $1 else warns "{t36}"
    t36 "T" = 36 * 2
    check c37  37 < sum of lines (cost) / $1 else warns "{t37}"
    t37 "T" = 37 * 2
    check c38  38 < sum of lines (cost) / $1 else warns "{t38}"
    t38 "T" = 38 * 2
    check c39  39 < sum of lines (cost) / $1 else warns "{t39}"
    t39 "T" = 39 * 2
    check c40  40 < sum of lines (cost) / $1 else warns "{t40}"
    t40 "T" = 40 * 2
    check c41  41 < sum of lines (cost) / $1 else warns "{t41}"
    t41 "T" = 41 * 2
    check c42  42 < sum of lines (cost) / $1 else warns "{t42}"
    t42 "T" = 42 * 2
    check c43  43 < sum of lines (cost) / $1 else warns "{t43}"
    t43 "T" = 43 * 2
    check c44  44 < sum of lines (cost) / $1 else warns "{t44}"
    t44 "T" = 44 * 2
    check c45  45 < sum of lines (cost) / $1 else warns "{2026-02-30}"
    t45 "T" = 45 * 2
    check c46  46 < sum of lines (cost) / $1 else warns "{t46}"
    t46 "T" = 46 * 2
    check c47  47 < sum of lines (cost)  / $1 else warns "{t47}"
    t47 "T" = 47 * 2
    check c48  48 < sum of lines (cost) / $1 else warns "{t48}"
    t48 "T" = 48 * 2
    check c49  49 < sum of lines (cost) / $1 else warns "{t49}"
    t49 "T" = 49 * 2
    check c50  50 < sum of lines (cost) / $1 else warns "{t50}"
    t50 "T" = 50 * 2
    check c51  51 < sum of lines (cost) / $1 else warns "{t51}"
    t51 "T" = 51 * 2
    check c52  52 < sum of lines (cost) / $1 else warns "{t52}"
    t52 "T" = 52 * 2
    check c53  53 < sum of lines (cost) / $1 else warns "{t53}"
    t53 "T" = 53 * 2
    check c54  54 < sum of lines (cost) / $1 else warns "{t54}"
    t54 "T" = 54 * 2
    check c55  55 < sum of lines (cost) / $1 else warns "{t55}"
    t55 "T" = 55 * 2
    check c56  56 < sum of lines (cost) / $1 else warns "{t56}"
    t56 "T" = 56 * 2
    check c57  57 < sum of lines (cost) / $1 else warns "{t57}"
    t57 "T" = 57 * 2
    check c58  58 < sum of lines (cost) / $1 else warns "{t58}"
    t58 "T" = 58 * 2
    check c59  59 < sum of lines cost) / $1 else warns "{t59}"
    t59 "T" = 59 * 2
    check c60  60 < sum of lines (cost) / $1 else warns "{t60}"
    t60 "T" = 60 * 2
    check c61  61 < sum of lines (cost) / $1 else warns "{t61}"
    t61 "T" = 61 * 2
    check c62  62 < sum of lines (cost) / $1 else warns "{t62}"
    t62 "T" = 62 * 2
    check c63  63 < sum of lines (cost) / $1 else warns "{t63}"
    t63 "T" = 63 * 2
    check c64  64 < sum of lines (cost) / $1 else warns "{t64}"
    t64 "T" = 64 * 2
    check c65  65 < sum of lines (cost) / $1 else warns "{t65}"
    t65 "T" = 65 * 2
    check c66  66 < sum of lines (cost) / $1 else warns "{t66}"
    t66 "T" = 66 * 2
    check c67  67 < sum of lines (cost) / $1 else warns "{t67}"
    t67 "T" = 67 * 2
    check c68  68 < sum of lines (cost) / $1 else warns "{t68}"
    t68 "T" = 68 * 2
    check c69  69 < sum of lines (cost) / $1 else warns "{t69}"
    t69 "T" = 69 * 2
    check c70  70 < sum of lines (cost) / $1 else warns "{t70}"
    t70 "T" = 70 * 2
    check c71  71 < sum of lines (cost) / $1 else warns "{t71}"
    t71 "T" = 71 * 2
    check c72  72 < sum of lines ("{t72}"
    t72 "T" = 72 * 2
    check c73  73 < sum of lines (cost) / $1 else warns "{t73}"
    t73 "T" = 73 * 2
    check c74  74 < sum of line